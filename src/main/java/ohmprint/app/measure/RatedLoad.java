package ohmprint.app.measure;

import java.util.Locale;

/** What to say of a load below the smallest that the maker allows. */
public final class RatedLoad {
    private RatedLoad() {}

    /** The sentence, from "load of" on. */
    public static String below(double ohm, double leastOhm) {
        return String.format(
                Locale.ROOT,
                "load of %.0f Ω is below the %.0f Ω that the maker allows; damping and distortion may differ from normal"
                        + " use",
                ohm,
                leastOhm);
    }
}
