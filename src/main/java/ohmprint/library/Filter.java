package ohmprint.library;

import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Which measurements are meant; what is null does not matter. Words and names match without regard to case.
 *
 * @param words each occurs somewhere in label, maker, model, serial number, notes, operator, route, verdict or findings
 * @param maker maker of the microphone
 * @param model its model
 * @param serial its serial number
 * @param transducer its principle
 * @param operator who measured or handed it in
 * @param route route as a word
 * @param verdict verdict as a word
 * @param since measured then or later
 * @param until measured before
 * @param superseded whether measurements that were superseded count too
 */
public record Filter(
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
    public static final Filter CURRENT =
            new Filter(List.of(), null, null, null, null, null, null, null, null, null, false);

    /** Everything. */
    public static final Filter EVERYTHING =
            new Filter(List.of(), null, null, null, null, null, null, null, null, null, true);

    /** Copies the words. */
    public Filter {
        words = List.copyOf(words);
    }

    /** The current measurements of one model, of one maker or of any. */
    public static Filter ofModel(@Nullable String maker, String model) {
        return new Filter(List.of(), maker, model, null, null, null, null, null, null, null, false);
    }

    /** The current measurements that hold all these words. */
    public static Filter ofWords(List<String> words) {
        return new Filter(words, null, null, null, null, null, null, null, null, null, false);
    }
}
