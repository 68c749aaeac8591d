package ohmprint.chart;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What is handed over with a microphone: a title, a word that stands above all else, and sections of blocks. It holds
 * words and drawings only; numbers are already rounded.
 *
 * @param title what the sheet is about, the title of the document
 * @param subtitle a line below it
 * @param workshop who hands it over
 * @param warning what a reader must know before anything else, or null
 * @param sections the sections in order
 * @param closing the last line: program, version, time
 */
public record Sheet(
        String title,
        String subtitle,
        Workshop workshop,
        @Nullable String warning,
        List<Section> sections,
        String closing) {
    /** Copies the sections. */
    public Sheet {
        sections = List.copyOf(sections);
    }

    /**
     * Who hands the sheet over.
     *
     * @param name name of the workshop; empty when there is none to state
     * @param lines address and whatever else stands below the name
     * @param logo own logo, or null
     */
    public record Workshop(
            String name, List<String> lines, @Nullable Logo logo) {
        /** None stated. */
        public static final Workshop NONE = new Workshop("", List.of(), null);

        /** Copies the lines. */
        public Workshop {
            lines = List.copyOf(lines);
        }
    }

    /**
     * A logo as an image file.
     *
     * @param mediaType {@code image/png} or {@code image/jpeg}
     * @param base64 the bytes of the file
     */
    public record Logo(String mediaType, String base64) {}

    /**
     * A part with a heading.
     *
     * @param heading its heading
     * @param blocks what it holds
     */
    public record Section(String heading, List<Block> blocks) {
        /** Copies the blocks. */
        public Section {
            blocks = List.copyOf(blocks);
        }
    }

    /** A piece of a section. */
    public sealed interface Block permits Words, Notice, Facts, Table, Drawing {}

    /**
     * A paragraph.
     *
     * @param text its text
     */
    public record Words(String text) implements Block {}

    /**
     * A sentence that must not be overlooked: a verdict, a finding, a caution.
     *
     * @param tone how serious it is; never told by colour alone
     * @param mark a word or two in front, such as a verdict or the code of a finding
     * @param text the sentence
     */
    public record Notice(Tone tone, String mark, String text) implements Block {}

    /** How serious a notice is. */
    public enum Tone {
        /** In order. */
        GOOD,
        /** Doubtful, or undecided. */
        DOUBTFUL,
        /** Wrong, or dangerous. */
        BAD,
        /** Neither. */
        PLAIN
    }

    /**
     * Names and values, two columns.
     *
     * @param rows name and value each
     */
    public record Facts(List<Fact> rows) implements Block {
        /** Copies the rows. */
        public Facts {
            rows = List.copyOf(rows);
        }
    }

    /**
     * A name and its value.
     *
     * @param name what it is
     * @param value the value with its unit
     */
    public record Fact(String name, String value) {}

    /**
     * A table with a heading to each column.
     *
     * @param caption what it shows
     * @param columns headings
     * @param rows cells, as many as there are headings
     */
    public record Table(String caption, List<String> columns, List<List<String>> rows) implements Block {
        /**
         * Copies the rows.
         *
         * @throws IllegalArgumentException if a row has not as many cells as there are columns
         */
        public Table {
            columns = List.copyOf(columns);
            rows = rows.stream().map(List::copyOf).toList();
            for (List<String> row : rows) {
                if (row.size() != columns.size()) {
                    throw new IllegalArgumentException(
                            "a row of " + row.size() + " cells stands in a table of " + columns.size() + " columns");
                }
            }
        }
    }

    /**
     * A chart.
     *
     * @param light the chart for paper
     * @param dark the same for a dim screen
     * @param description what it shows, in words, for who cannot see it
     * @param caption the line below it
     */
    public record Drawing(Chart light, Chart dark, String description, String caption) implements Block {}
}
