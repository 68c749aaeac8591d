package ohmprint.signal;

import java.util.Locale;

/**
 * Flat tops in a take, whether at full scale or, clipped further up the chain, below it.
 *
 * @param milliseconds total time that the signal stands at its flat level, both polarities together
 * @param levelDbfs the level at which it flattens, as a peak value: {@code 20·log₁₀} relative to full scale
 * @param polarity which half-waves are flattened
 * @param firstSeconds when it first does, in seconds from the start of the take
 */
public record Clipping(double milliseconds, double levelDbfs, Polarity polarity, double firstSeconds) {
    /** Which half-waves are flattened. */
    public enum Polarity {
        /** Only the positive ones. */
        POSITIVE,
        /** Only the negative ones. */
        NEGATIVE,
        /** Both. */
        BOTH
    }

    /** In words, for a message: "clips for 41 ms at -6.0 dBFS from 1.234 s". */
    public String inWords() {
        String duration =
                milliseconds < 9.95 ? String.format(Locale.ROOT, "%.1f", milliseconds) : "" + Math.round(milliseconds);
        String level = String.format(Locale.ROOT, "%.1f", Math.abs(levelDbfs));
        String sign = levelDbfs < 0 && !level.equals("0.0") ? "-" : "";
        String which =
                polarity == Polarity.BOTH ? "" : " (" + polarity.name().toLowerCase(Locale.ROOT) + " half-waves)";
        return String.format(
                Locale.ROOT, "clips for %s ms at %s%s dBFS%s from %.3f s", duration, sign, level, which, firstSeconds);
    }
}
