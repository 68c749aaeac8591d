package ohmprint.library;

import java.time.Instant;

/**
 * A link between two measurements.
 *
 * @param kind what it says
 * @param from identifier of the older or earlier one
 * @param to identifier of the newer or later one
 * @param words reason or note
 * @param by who made it
 * @param at when
 */
public record Link(Kind kind, String from, String to, String words, String by, Instant at) {
    /** What a link says. */
    public enum Kind {
        /** The second takes the place of the first. */
        SUPERSEDED("supersession", "older", "newer", "reason"),
        /** The first is before, the second after a repair of the microphone. */
        REPAIRED("repair", "earlier", "later", "note");

        private final String table;
        private final String from;
        private final String to;
        private final String words;

        Kind(String table, String from, String to, String words) {
            this.table = table;
            this.from = from;
            this.to = to;
            this.words = words;
        }

        String table() {
            return table;
        }

        String from() {
            return from;
        }

        String to() {
            return to;
        }

        String words() {
            return words;
        }
    }
}
