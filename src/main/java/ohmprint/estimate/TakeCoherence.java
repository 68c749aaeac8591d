package ohmprint.estimate;

import java.util.Arrays;
import ohmprint.curve.FrequencyBands;

/** How far takes hold the same sound, judged band by band after alignment. */
public final class TakeCoherence {
    /** From here on takes are called coherent: unrelated takes stay below 0.1, related ones above 0.9. */
    public static final double COHERENT = 0.5;

    private static final int FRACTION = 6;
    private static final double FROM_HZ = 100;
    private static final double TO_HZ = 8000;

    private TakeCoherence() {}

    /**
     * Median over bands of {@code |Σ S_kp|²/(Σ S_kk·Σ S_pp)}, each sum over the bins of a sixth of an octave: the dividers'
     * ratio is smooth there, so the sums stay coherent, and many bins make the value of unrelated takes small.
     *
     * @param obs aligned observations
     * @param k a take
     * @param pivot the take it is compared with
     */
    public static double median(BinObservations obs, int k, int pivot) {
        FrequencyBands bands = FrequencyBands.within(FRACTION, FROM_HZ, TO_HZ);
        double[] all = new double[bands.size()];
        for (int b = 0; b < all.length; b++) {
            double re = 0;
            double im = 0;
            double own = 0;
            double other = 0;
            for (int i = obs.firstAtOrAbove(bands.lowerEdge(b)); i < obs.firstAtOrAbove(bands.upperEdge(b)); i++) {
                re += obs.re(i, k, pivot);
                im += obs.im(i, k, pivot);
                own += obs.re(i, k, k);
                other += obs.re(i, pivot, pivot);
            }
            all[b] = own > 0 && other > 0 ? (re * re + im * im) / (own * other) : 0;
        }
        Arrays.sort(all);
        return all[all.length / 2];
    }
}
