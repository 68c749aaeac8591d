package ohmprint.app.workspace;

import java.util.List;

/**
 * One measurement of the library with everything about it.
 *
 * @param entry as lists show it
 * @param curve what was measured
 * @param links links with other measurements
 */
public record EntryDetailView(EntryView entry, CurveView curve, List<Link> links) {
    /**
     * A link between two measurements.
     *
     * @param kind {@code superseded} or {@code repaired}
     * @param from identifier of the older or earlier one
     * @param to identifier of the newer or later one
     * @param words reason or note
     * @param by who made it
     * @param at when, ISO 8601
     */
    public record Link(String kind, String from, String to, String words, String by, String at) {
        static Link of(ohmprint.library.Link link) {
            return new Link(
                    link.kind().word(),
                    link.from(),
                    link.to(),
                    link.words(),
                    link.by(),
                    link.at().toString());
        }
    }
}
