package ohmprint.report;

import java.util.List;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.PredictedValue;

/**
 * What the picture of loads shows: level re open circuit and response change re 1 kHz, a line for each load.
 *
 * @param label what was measured
 * @param heading what the lines are
 * @param bands the grid of the whole curve
 * @param ordered true for one load that varies, false for loads that have nothing to do with each other
 * @param lines one to {@value #MOST_LINES} loads
 * @param facts what there is to say beside the plots
 * @param caption what there is to say beneath them
 */
public record LoadingPlotData(
        String label,
        String heading,
        FrequencyBands bands,
        boolean ordered,
        List<Line> lines,
        List<Fact> facts,
        String caption) {
    /** Most lines of one picture. */
    public static final int MOST_LINES = 10;

    /**
     * Copies the lists.
     *
     * @throws IllegalArgumentException for no line, or too many
     */
    public LoadingPlotData {
        lines = List.copyOf(lines);
        facts = List.copyOf(facts);
        if (lines.isEmpty() || lines.size() > MOST_LINES) {
            throw new IllegalArgumentException(
                    "a picture of loads holds 1 to " + MOST_LINES + " lines, not " + lines.size() + "; choose some");
        }
    }

    /**
     * One load.
     *
     * @param name what it is called
     * @param words what to say of it, on one line
     * @param losses loss per band in decibels, positive when voltage is lost; nothing for a gap
     * @param changes response change re 1 kHz per band in decibels, of the same bands
     */
    public record Line(String name, String words, List<PredictedValue> losses, List<PredictedValue> changes) {
        /** Copies the lists. */
        public Line {
            losses = List.copyOf(losses);
            changes = List.copyOf(changes);
        }
    }

    /**
     * One thing to say.
     *
     * @param head what it is about
     * @param words the thing
     */
    public record Fact(String head, String words) {}
}
