package ohmprint.app.measure;

import java.util.function.Consumer;

/**
 * An automatic level control as recorders have it: the gain is 1 at rest and falls where the followed peak exceeds a
 * threshold, {@code g = (threshold/peak)^(1 − 1/ratio)}. Fast when the sound rises, slow when it falls.
 *
 * @param thresholdDbfs threshold in dB relative to full scale, negative
 * @param attackSeconds time constant when the level rises
 * @param releaseSeconds time constant when it falls
 * @param ratio decibels in for each decibel out above the threshold
 */
record AutomaticLevel(double thresholdDbfs, double attackSeconds, double releaseSeconds, double ratio) {
    /** Changes a take in place. */
    Consumer<double[]> at(double sampleRate) {
        return x -> {
            double threshold = Math.pow(10, thresholdDbfs / 20);
            double rise = 1 - Math.exp(-1 / (sampleRate * attackSeconds));
            double fall = 1 - Math.exp(-1 / (sampleRate * releaseSeconds));
            double followed = 0;
            for (int i = 0; i < x.length; i++) {
                double size = Math.abs(x[i]);
                followed += (size - followed) * (size > followed ? rise : fall);
                x[i] *= followed <= threshold ? 1 : Math.pow(threshold / followed, 1 - 1 / ratio);
            }
        };
    }
}
