package ohmprint.app.match;

import java.util.List;
import java.util.Locale;
import ohmprint.impedance.PredictedValue;
import org.jspecify.annotations.Nullable;

/**
 * What one input does to the microphone. Losses are in decibels, positive when voltage is lost.
 *
 * @param name what the bench calls the input; with a booster in front of it, both
 * @param load what lies across the microphone, in words, cable and feeds included
 * @param loadOhm resistance of the input in ohms as stated, without cable and feeds; NaN for a measured curve
 * @param losses loss per band of the range, ascending; nothing for a rejected band
 * @param changes response change re 1 kHz per band, positive where more gets through than at 1 kHz
 * @param worstLoss greatest loss, and where
 * @param lossAtReference loss at 1 kHz
 * @param tilt greatest less least loss over the bands, at the frequency of the greatest
 * @param largestChange the response change farthest from 0, and where
 * @param leastRatio least ratio of the load's impedance to the source's, and where
 * @param tenTimes whether that is ten or more
 * @param level level and noise; null when they were not asked for
 */
public record LoadPrediction(
        String name,
        String load,
        double loadOhm,
        List<PredictedValue> losses,
        List<PredictedValue> changes,
        PredictedValue worstLoss,
        PredictedValue lossAtReference,
        PredictedValue tilt,
        PredictedValue largestChange,
        PredictedValue leastRatio,
        Answer tenTimes,
        @Nullable LevelPrediction level) {
    /** Copies the lists. */
    public LoadPrediction {
        losses = List.copyOf(losses);
        changes = List.copyOf(changes);
    }

    /** An answer that uncertainty may leave open. */
    public enum Answer {
        /** Yes, with its uncertainty on the far side. */
        YES,
        /** No, likewise. */
        NO,
        /** The limit lies within the uncertainty or the bounds. */
        UNDECIDED,
        /** Nothing is known. */
        UNKNOWN;

        /** Whether a value is at least as great as a limit. */
        static Answer atLeast(double limit, PredictedValue p) {
            double u = p.u95() > 0 ? p.u95() : 0;
            double low = p.isValue() ? p.value() - u : p.low();
            double high = p.isValue() ? p.value() + u : p.high();
            if (Double.isNaN(low)) {
                return UNKNOWN;
            }
            // A load of ten times to the last digit keeps the rule.
            double rounding = 1e-9 * Math.max(1, Math.abs(limit));
            return low >= limit - rounding ? YES : high < limit - rounding ? NO : UNDECIDED;
        }

        /** The word used in files: lower case. */
        public String word() {
            return name().toLowerCase(Locale.ROOT);
        }
    }
}
