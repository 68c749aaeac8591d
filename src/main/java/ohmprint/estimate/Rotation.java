package ohmprint.estimate;

/** What delays do to the cross products of takes at one bin after another: {@code e^{jω(τ_k − τ_l)}}. */
final class Rotation {
    private final BinObservations.Delay seconds;
    private final double[] re;
    private final double[] im;

    /**
     * A rotation that waits for its first bin.
     *
     * @param takes number of takes K
     * @param seconds delay τ of each take, which may depend on the bin
     */
    Rotation(int takes, BinObservations.Delay seconds) {
        this.seconds = seconds;
        this.re = new double[takes];
        this.im = new double[takes];
    }

    /**
     * Turns to a bin.
     *
     * @param i the bin
     * @param hz its frequency in hertz
     */
    void at(int i, double hz) {
        double first = seconds.of(0, i);
        for (int k = 0; k < re.length; k++) {
            double delay = seconds.of(k, i) - first;
            double phase = 2 * Math.PI * hz * delay;
            re[k] = delay == 0 ? 1 : Math.cos(phase);
            im[k] = delay == 0 ? 0 : Math.sin(phase);
        }
    }

    /** Real part of the factor of S_kl. */
    double re(int k, int l) {
        return re[k] * re[l] + im[k] * im[l];
    }

    /** Imaginary part of the factor of S_kl. */
    double im(int k, int l) {
        return im[k] * re[l] - re[k] * im[l];
    }
}
