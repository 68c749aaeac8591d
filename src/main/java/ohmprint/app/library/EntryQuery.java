package ohmprint.app.library;

import java.time.Instant;
import java.util.List;
import ohmprint.library.Filter;
import org.jspecify.annotations.Nullable;

/**
 * Which measurements are meant; what is null does not matter, case does not either.
 *
 * @param words each occurs somewhere in label, maker, model, serial number, notes, operator, route, verdict or findings
 * @param maker maker
 * @param model model
 * @param serial serial number
 * @param transducer principle
 * @param operator who measured or handed it in
 * @param route route as a word
 * @param verdict verdict as a word
 * @param since measured then or later
 * @param until measured before
 * @param superseded whether superseded measurements count too
 */
public record EntryQuery(
        List<String> words,
        @Nullable String maker,
        @Nullable String model,
        @Nullable String serial,
        @Nullable String transducer,
        @Nullable String operator,
        @Nullable String route,
        @Nullable String verdict,
        @Nullable Instant since,
        @Nullable Instant until,
        boolean superseded) {
    /** Everything that is not superseded. */
    public static final EntryQuery CURRENT =
            new EntryQuery(List.of(), null, null, null, null, null, null, null, null, null, false);

    /** Copies the words. */
    public EntryQuery {
        words = List.copyOf(words);
    }

    Filter filter() {
        return new Filter(words, maker, model, serial, transducer, operator, route, verdict, since, until, superseded);
    }
}
