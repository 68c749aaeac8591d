package ohmprint.app.handover;

import java.util.ArrayList;
import java.util.List;
import ohmprint.app.ConsistencyWords;
import ohmprint.curve.BandStatus;
import ohmprint.curve.BandValue;
import ohmprint.curve.Consistency;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;
import ohmprint.curve.Rounded;
import ohmprint.report.Chart;
import ohmprint.report.ChartTheme;
import ohmprint.report.ImpedanceChart;
import ohmprint.report.Sheet.Block;
import ohmprint.report.Sheet.Drawing;
import ohmprint.report.Sheet.Fact;
import ohmprint.report.Sheet.Facts;
import ohmprint.report.Sheet.Notice;
import ohmprint.report.Sheet.Section;
import ohmprint.report.Sheet.Tone;
import org.jspecify.annotations.Nullable;

/** The curve, and the numbers that people ask for first. */
final class ResultSection {

    private ResultSection() {}

    /** The section; the light and the dark chart are those of the caller, for they may hold the limits of a specification. */
    static Section of(Measurement m, ChartMaker charts) {
        List<Block> blocks = new ArrayList<>();
        blocks.add(verdict(m));
        ImpedanceCurve curve = m.curve();
        List<Fact> facts = new ArrayList<>();
        facts.add(new Fact("Quantity", Phrases.capital(curve.quantity())));
        if (curve.count(BandStatus.MEASURED) > 0) {
            values(curve, facts);
        }
        facts.add(new Fact("Bands", bands(curve)));
        String name = "Consistency";
        for (String sentence : ConsistencyWords.of(curve.consistency())) {
            facts.add(new Fact(name, Phrases.capital(sentence)));
            name = "";
        }
        blocks.add(new Facts(facts));
        blocks.add(new Drawing(
                charts.draw(ChartTheme.LIGHT),
                charts.draw(ChartTheme.DARK),
                description(curve),
                "The shaded band holds the value with 95 % confidence. Parts of the error are common to all bands, so the"
                        + " curve may shift as a whole within it."));
        return new Section("Result", blocks);
    }

    /** Draws the curve in a theme. */
    @FunctionalInterface
    interface ChartMaker {
        /** The chart. */
        Chart draw(ChartTheme theme);

        /** The curve alone. */
        static ChartMaker of(Measurement m) {
            return theme -> ImpedanceChart.of(m, theme).forPage();
        }
    }

    private static Notice verdict(Measurement m) {
        return switch (m.usability()) {
            case USABLE -> usable(m.curve().consistency());
            case DOUBTFUL ->
                new Notice(Tone.DOUBTFUL, "Doubtful.", "The findings below say what weakens this measurement.");
            case UNUSABLE ->
                new Notice(
                        Tone.BAD,
                        "Unusable.",
                        "The takes do not support a curve; what is shown is for finding the fault only.");
        };
    }

    /** Takes agree only where they were compared: two of them, or a curve of a version that did not say, show nothing. */
    private static Notice usable(@Nullable Consistency consistency) {
        if (consistency == null || (consistency.takes() == null && consistency.entered() == null)) {
            return new Notice(
                    Tone.GOOD,
                    "Usable.",
                    "No fault was found. Whether loads and levels are as entered was not checked against each other.");
        }
        return ConsistencyWords.agree(consistency)
                ? new Notice(Tone.GOOD, "Usable.", "The takes agree and support the stated uncertainty.")
                : new Notice(
                        Tone.DOUBTFUL,
                        "Usable, but the takes are not consistent.",
                        "The consistency below says what to check.");
    }

    private static void values(ImpedanceCurve curve, List<Fact> facts) {
        BandValue reference = curve.at(FrequencyBands.REFERENCE_HZ);
        if (reference.isMeasured()) {
            facts.add(new Fact("|Z| at 1 kHz", Phrases.ohms(reference.magnitudeOhm(), reference.magnitudeU95Ohm())));
            if (!Double.isNaN(reference.phaseDeg())) {
                Rounded phase = Rounded.of(reference.phaseDeg(), reference.phaseU95Deg());
                facts.add(new Fact("Phase there", phase.value() + "° ± " + phase.uncertainty() + "°"));
            }
        }
        facts.add(extreme(curve, "Highest |Z|", 1));
        facts.add(extreme(curve, "Lowest |Z|", -1));
    }

    private static Fact extreme(ImpedanceCurve curve, String name, int sign) {
        BandValue v = curve.values().stream()
                .filter(BandValue::isMeasured)
                .max((a, b) -> sign * Double.compare(a.magnitudeOhm(), b.magnitudeOhm()))
                .orElseThrow();
        return new Fact(
                name,
                Phrases.ohms(v.magnitudeOhm(), v.magnitudeU95Ohm()) + " at " + Rounded.frequency(v.frequencyHz()));
    }

    private static String bands(ImpedanceCurve curve) {
        List<String> parts = new ArrayList<>();
        for (BandStatus status : BandStatus.values()) {
            if (curve.count(status) > 0) {
                parts.add(curve.count(status) + " " + status.word());
            }
        }
        int last = curve.bands().size() - 1;
        return Rounded.frequency(curve.bands().midband(0)) + " to "
                + Rounded.frequency(curve.bands().midband(last)) + ", 1/"
                + curve.bands().fraction() + " octave: " + String.join(", ", parts);
    }

    private static String description(ImpedanceCurve curve) {
        if (curve.count(BandStatus.MEASURED) == 0) {
            return "Chart of " + curve.quantity() + " over frequency; no band has a value.";
        }
        Fact high = extreme(curve, "", 1);
        Fact low = extreme(curve, "", -1);
        return "Chart of " + curve.quantity() + " over frequency: between " + low.value() + " and " + high.value()
                + ", with its 95 % band and the phase below.";
    }
}
