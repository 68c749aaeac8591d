package ohmprint.estimation;

import java.util.Arrays;
import ohmprint.dsp.DelayFit;
import ohmprint.impedance.FrequencyBands;

/**
 * Residual delay of each take against the pivot after alignment to whole samples, and what to do about it.
 *
 * <p>With playback and capture on one clock the delay between takes is a whole number of samples. If the estimate lies
 * within its uncertainty of an integer it is taken to be that integer; otherwise the estimate itself is taken out and
 * its uncertainty kept.
 *
 * @param seconds delay of every take behind the pivot to be taken out, seconds
 * @param uncertainty standard uncertainty of what remains, seconds
 * @param estimates the estimates themselves
 */
public record TimingCheck(double[] seconds, double[] uncertainty, DelayFit[] estimates) {
    private static final int FRACTION = 12;
    private static final double SEARCH_SAMPLES = 4.6;
    /** Largest distance from an integer, in samples, that a whole-sample delay is believed to show. */
    private static final double LARGEST_MISS = 0.3;

    private static final double COVERAGE = 2.5;
    /** What may remain between takes on one clock: sampling jitter and temperature of the crystal, seconds. */
    public static final double ONE_CLOCK_SECONDS = 1e-9;

    private static final double USABLE_PHASE_SD = 0.3;

    /**
     * Estimates the delays.
     *
     * @param obs observations aligned to whole samples
     * @param pivot index of the pivot take
     * @param sampleRate sample rate in hertz
     * @param fromHz lowest frequency to use, hertz
     * @param toHz highest frequency to use, hertz
     * @param oneClock whether a delay near a whole number of samples is taken to be one: not with two clocks known to be at work
     */
    public static TimingCheck of(
            BinObservations obs, int pivot, double sampleRate, double fromHz, double toHz, boolean oneClock) {
        FrequencyBands bands = FrequencyBands.within(FRACTION, fromHz, toHz);
        int takes = obs.takes();
        DelayFit[] fits = new DelayFit[takes];
        double[] seconds = new double[takes];
        double[] uncertainty = new double[takes];
        for (int k = 0; k < takes; k++) {
            fits[k] = k == pivot ? new DelayFit(0, 0) : fit(obs, k, pivot, bands, sampleRate);
            double samples = fits[k].seconds() * sampleRate;
            double whole = Math.rint(samples);
            double u = fits[k].standardUncertainty() * sampleRate;
            boolean near =
                    oneClock && Math.abs(samples - whole) <= Math.min(LARGEST_MISS, Math.max(COVERAGE * u, 0.02));
            seconds[k] = near ? whole / sampleRate : fits[k].seconds();
            uncertainty[k] = k == pivot ? 0 : near ? ONE_CLOCK_SECONDS : fits[k].standardUncertainty();
        }
        return new TimingCheck(seconds, uncertainty, fits);
    }

    /** True when any take was not snapped to whole samples. */
    public boolean hasFractions() {
        return Arrays.stream(uncertainty).anyMatch(u -> u > ONE_CLOCK_SECONDS);
    }

    /** True when take {@code k} was not snapped to whole samples. */
    public boolean isFraction(int k) {
        return uncertainty[k] > ONE_CLOCK_SECONDS;
    }

    private static DelayFit fit(BinObservations obs, int k, int pivot, FrequencyBands bands, double sampleRate) {
        double[] re = new double[bands.size()];
        double[] im = new double[bands.size()];
        double[] sd = new double[bands.size()];
        Arrays.fill(sd, Double.POSITIVE_INFINITY);
        for (int b = 0; b < re.length; b++) {
            int from = obs.firstAtOrAbove(bands.lowerEdge(b));
            int to = obs.firstAtOrAbove(bands.upperEdge(b));
            BinObservations.Pair both = obs.pair(from, to, k, pivot);
            re[b] = both.re() / both.other();
            im[b] = both.im() / both.other();
            double phaseSd = Math.sqrt((both.ownNoise() / both.own() + both.otherNoise() / both.other())
                    / (2 * both.count() * obs.averages()));
            if (to > from && phaseSd < USABLE_PHASE_SD) {
                sd[b] = phaseSd;
            }
        }
        return DelayFit.of(bands.midbands(), re, im, sd, SEARCH_SAMPLES / sampleRate);
    }
}
