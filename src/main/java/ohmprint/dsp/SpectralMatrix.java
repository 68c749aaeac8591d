package ohmprint.dsp;

/**
 * Auto and cross spectra of M signals, averaged over windowed blocks: per bin the Hermitian matrix
 * {@code S_kl(f) = (1/B)·Σ_b X_k,b(f)·X_l,b*(f)/(f_s·Σw²)}, doubled to one-sided density.
 *
 * <p>For B blocks of N samples there are N/2+1 bins at spacing f_s/N. With {@code fold} m only every m-th of them is
 * computed, exactly, by one transform of N/m samples: {@code X_{mi} = Σ_{n<N/m} (Σ_j w_{n+jN/m}·x_{n+jN/m})·e^(−j2πin/(N/m))}.
 * Neighbouring bins of a Hann window share much (ρ² = 4/9, 1/36 for the next but one), so m = 2 keeps 92 % of the
 * information for half the work. Units: full scale² per hertz. Only the bins of
 * {@code [firstBin, endBin)} are kept. Memory does not depend on the number of blocks. Source of the estimator: P. D.
 * Welch, IEEE Trans. Audio Electroacoust. AU-15 (1967) 70–73; Bendat and Piersol, Random Data, for the coherence.
 */
public final class SpectralMatrix {
    private final int signals;
    private final int blockLength;
    private final int transformLength;
    private final double sampleRate;
    private final int firstBin;
    private final int endBin;
    private final double[] window;
    private final double windowEnergy;
    private final boolean removeMean;
    private final double[][] re;
    private final double[][] im;
    private final double[][] work;
    private int blocks;

    /**
     * An empty matrix.
     *
     * @param signals number of signals M
     * @param blockLength samples per block N, a power of two
     * @param sampleRate sample rate in hertz
     * @param fromHz lowest frequency to keep, hertz
     * @param toHz highest frequency to keep, hertz
     * @param removeMean whether the mean of each block is taken away before windowing
     */
    public SpectralMatrix(
            int signals, int blockLength, double sampleRate, double fromHz, double toHz, boolean removeMean) {
        this(signals, blockLength, 1, sampleRate, fromHz, toHz, removeMean);
    }

    /**
     * An empty matrix with every {@code fold}-th bin.
     *
     * @param signals number of signals M
     * @param blockLength samples per block N, a power of two
     * @param fold m, a power of two of at most N/4
     * @param sampleRate sample rate in hertz
     * @param fromHz lowest frequency to keep, hertz
     * @param toHz highest frequency to keep, hertz
     * @param removeMean whether the mean of each block is taken away before windowing
     */
    public SpectralMatrix(
            int signals, int blockLength, int fold, double sampleRate, double fromHz, double toHz, boolean removeMean) {
        if (fold < 1 || Integer.bitCount(fold) != 1 || fold > blockLength / 4) {
            throw new IllegalArgumentException(
                    "blocks of " + blockLength + " samples cannot be folded into " + fold + "; take a power of two");
        }
        this.signals = signals;
        this.blockLength = blockLength;
        this.transformLength = blockLength / fold;
        this.sampleRate = sampleRate;
        this.firstBin = Math.max(0, (int) Math.floor(fromHz * transformLength / sampleRate));
        this.endBin = Math.min(transformLength / 2, (int) Math.ceil(toHz * transformLength / sampleRate)) + 1;
        this.window = Windows.hann(blockLength);
        double energy = 0;
        for (double w : window) {
            energy += w * w;
        }
        this.windowEnergy = energy;
        this.removeMean = removeMean;
        int pairs = signals * (signals + 1) / 2;
        this.re = new double[pairs][endBin - firstBin];
        this.im = new double[pairs][endBin - firstBin];
        this.work = new double[signals][transformLength];
    }

    /**
     * Adds one block of every signal.
     *
     * @param data one array per signal
     * @param offset index of the block's first sample in each array; {@code offset + blockLength} samples must exist
     */
    public void add(double[][] data, int offset) {
        RealFourier fft = RealFourier.ofLength(transformLength);
        for (int k = 0; k < signals; k++) {
            window(data[k], offset, work[k]);
            fft.forward(work[k]);
        }
        for (int k = 0, p = 0; k < signals; k++) {
            for (int l = k; l < signals; l++, p++) {
                accumulate(work[k], work[l], re[p], im[p]);
            }
        }
        blocks++;
    }

    private void window(double[] x, int offset, double[] out) {
        double mean = removeMean ? mean(x, offset) : 0;
        for (int i = 0; i < transformLength; i++) {
            out[i] = window[i] * (x[offset + i] - mean);
        }
        for (int from = transformLength; from < blockLength; from += transformLength) {
            for (int i = 0; i < transformLength; i++) {
                out[i] += window[from + i] * (x[offset + from + i] - mean);
            }
        }
    }

    private void accumulate(double[] a, double[] b, double[] sumRe, double[] sumIm) {
        int from = Math.max(firstBin, 1);
        int to = Math.min(endBin, transformLength / 2);
        for (int i = from, j = 2 * from; i < to; i++, j += 2) {
            double ar = a[j];
            double ai = a[j + 1];
            double br = b[j];
            double bi = b[j + 1];
            sumRe[i - firstBin] += ar * br + ai * bi;
            sumIm[i - firstBin] += ai * br - ar * bi;
        }
        if (firstBin == 0) {
            sumRe[0] += a[0] * b[0];
        }
        if (endBin > transformLength / 2) {
            sumRe[transformLength / 2 - firstBin] += a[1] * b[1];
        }
    }

    private double mean(double[] x, int offset) {
        double s = 0;
        for (int i = offset; i < offset + blockLength; i++) {
            s += x[i];
        }
        return s / blockLength;
    }

    /** Samples per block N. */
    public int blockLength() {
        return blockLength;
    }

    /** Number of blocks averaged so far. */
    public int blocks() {
        return blocks;
    }

    /** First bin kept. */
    public int firstBin() {
        return firstBin;
    }

    /** One more than the last bin kept. */
    public int endBin() {
        return endBin;
    }

    /** Sample rate of the signals in hertz. */
    public double sampleRate() {
        return sampleRate;
    }

    /** Spacing of the bins in hertz. */
    public double binSpacing() {
        return sampleRate / transformLength;
    }

    /** Frequency of bin {@code i} in hertz. */
    public double frequency(int i) {
        return i * binSpacing();
    }

    /** One-sided power spectral density of signal {@code k} at bin {@code i}, full scale²/Hz. */
    public double auto(int k, int i) {
        return scale(i) * re[pair(k, k)][i - firstBin];
    }

    /** Real part of S_kl at bin {@code i}. */
    public double crossRe(int k, int l, int i) {
        return scale(i) * re[k <= l ? pair(k, l) : pair(l, k)][i - firstBin];
    }

    /** Imaginary part of S_kl at bin {@code i}. */
    public double crossIm(int k, int l, int i) {
        return k <= l ? scale(i) * im[pair(k, l)][i - firstBin] : -scale(i) * im[pair(l, k)][i - firstBin];
    }

    /**
     * Magnitude-squared coherence {@code γ² = |S_kl|²/(S_kk·S_ll)} at bin {@code i}; 0 where a signal is silent. It is
     * biased upwards by about 1/B for B independent blocks.
     */
    public double coherence(int k, int l, int i) {
        double power = auto(k, i) * auto(l, i);
        return power > 0 ? (sq(crossRe(k, l, i)) + sq(crossIm(k, l, i))) / power : 0;
    }

    private double scale(int i) {
        double oneSided = i == 0 || i == transformLength / 2 ? 1 : 2;
        return blocks == 0 ? 0 : oneSided / (blocks * sampleRate * windowEnergy);
    }

    private int pair(int k, int l) {
        return k * signals - k * (k - 1) / 2 + (l - k);
    }

    private static double sq(double v) {
        return v * v;
    }
}
