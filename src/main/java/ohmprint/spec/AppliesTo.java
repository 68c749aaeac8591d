package ohmprint.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.curve.Microphone;
import org.jspecify.annotations.Nullable;

/**
 * The microphones that a specification is meant for; null means any.
 *
 * @param maker maker
 * @param model model
 * @param transducer principle, as in {@link Microphone}
 */
public record AppliesTo(
        @Nullable String maker,
        @Nullable String model,
        @Nullable String transducer) {
    /** Any microphone. */
    public static final AppliesTo ALL = new AppliesTo(null, null, null);

    /** In which respects a microphone is another one, a phrase each; none when it is meant. Case does not count. */
    public List<String> differences(Microphone microphone) {
        List<String> out = new ArrayList<>();
        add(out, "maker", maker, microphone.maker());
        add(out, "model", model, microphone.model());
        add(out, "transducer", transducer, microphone.transducer());
        return out;
    }

    private static void add(List<String> out, String what, @Nullable String wanted, @Nullable String given) {
        if (wanted == null || (given != null && same(wanted, given))) {
            return;
        }
        out.add(what + " " + wanted + ", not " + (given == null ? "stated" : given));
    }

    private static boolean same(String a, String b) {
        return a.strip().toLowerCase(Locale.ROOT).equals(b.strip().toLowerCase(Locale.ROOT));
    }
}
