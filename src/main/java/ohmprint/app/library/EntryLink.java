package ohmprint.app.library;

import java.time.Instant;
import java.util.Locale;
import ohmprint.library.Link;

/**
 * A link between two measurements.
 *
 * @param kind {@code superseded} or {@code repaired}
 * @param from identifier of the older or earlier one
 * @param to identifier of the newer or later one
 * @param words reason or note
 * @param by who made it
 * @param at when
 */
public record EntryLink(String kind, String from, String to, String words, String by, Instant at) {
    static EntryLink of(Link link) {
        return new EntryLink(
                link.kind().name().toLowerCase(Locale.ROOT),
                link.from(),
                link.to(),
                link.words(),
                link.by(),
                link.at());
    }
}
