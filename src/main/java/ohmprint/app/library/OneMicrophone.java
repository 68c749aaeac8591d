package ohmprint.app.library;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.impedance.Microphone;
import org.jspecify.annotations.Nullable;

/**
 * Whether two measurements may be of one microphone, by what was stated of them. Maker, model, serial number and transducer
 * count where both state them; the label counts where not both state a serial number, because labels change.
 */
final class OneMicrophone {
    private OneMicrophone() {}

    /** A warning that a difference is not that of one microphone before and after, or null where it may be. */
    static @Nullable String warning(Microphone first, Microphone second) {
        List<String> differing = new ArrayList<>();
        boolean serials = first.serial() != null && second.serial() != null;
        compare(differing, "maker", first.maker(), second.maker());
        compare(differing, "model", first.model(), second.model());
        compare(differing, "serial number", first.serial(), second.serial());
        compare(differing, "transducer", first.transducer(), second.transducer());
        if (!serials) {
            compare(differing, "label", first.label(), second.label());
        }
        return differing.isEmpty()
                ? null
                : "The entries describe two different microphones (" + String.join(", ", differing)
                        + "): the difference is one between them and does not show the effect of a repair. If they are one"
                        + " microphone, correct the entry in the session and measure again.";
    }

    private static void compare(List<String> out, String what, @Nullable String a, @Nullable String b) {
        if (a != null && b != null && !plain(a).equals(plain(b))) {
            out.add(what + " '" + a.strip() + "' and '" + b.strip() + "'");
        }
    }

    private static String plain(String text) {
        return text.strip().toLowerCase(Locale.ROOT);
    }
}
