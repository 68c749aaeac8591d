package ohmprint.estimate;

/**
 * Change of the source from take to take, seen by the reference channels when all takes hold the same sound.
 *
 * <p>{@code g_k(f) = Σ S_kp ∕ Σ S_pp} of the reference channels over {@value #OCTAVES} octave around f, p being the
 * pivot take. Dividing the microphone's channels by it removes level and timing of the source without putting the
 * reference's room notches into them.
 *
 * @param gainRe real part of g_k, indexed [take][bin]
 * @param gainIm imaginary part
 * @param driftDb level of each take relative to the first, dB, over the whole range
 */
public record SourceDrift(double[][] gainRe, double[][] gainIm, double[] driftDb) {
    private static final double OCTAVES = 1.0;

    /**
     * Gains from observations of the reference channels.
     *
     * @param reference aligned observations of the reference channels, in the bins of the microphone's observations
     * @param pivot index of the pivot take
     */
    public static SourceDrift of(BinObservations reference, int pivot) {
        int takes = reference.takes();
        int bins = reference.size();
        double[][] re = new double[takes][bins];
        double[][] im = new double[takes][bins];
        double[] level = new double[takes];
        double half = Math.pow(2, OCTAVES / 2);
        for (int k = 0; k < takes; k++) {
            double[] crossRe = new double[bins + 1];
            double[] crossIm = new double[bins + 1];
            double[] power = new double[bins + 1];
            for (int i = 0; i < bins; i++) {
                double own = reference.re(i, pivot, pivot);
                crossRe[i + 1] = crossRe[i] + reference.re(i, k, pivot);
                crossIm[i + 1] = crossIm[i] + reference.im(i, k, pivot);
                power[i + 1] = power[i] + own;
            }
            for (int i = 0; i < bins; i++) {
                int a = reference.firstAtOrAbove(reference.hz(i) / half);
                int b = reference.firstAtOrAbove(reference.hz(i) * half);
                double p = power[b] - power[a];
                re[k][i] = (crossRe[b] - crossRe[a]) / p;
                im[k][i] = (crossIm[b] - crossIm[a]) / p;
            }
            level[k] = 20 * Math.log10(Math.hypot(crossRe[bins], crossIm[bins]) / power[bins]);
        }
        double first = level[0];
        for (int k = 0; k < takes; k++) {
            level[k] -= first;
        }
        return new SourceDrift(re, im, level);
    }
}
