package ohmprint.estimation;

import java.util.Arrays;
import ohmprint.impedance.FrequencyBands;

/**
 * What K takes hold at N frequency bins: cross products and noise.
 *
 * <p>Per bin i the Hermitian K×K matrix {@code S_kl = mean over snapshots of D_k·D_l*} and the expected noise
 * {@code σ_k²} inside {@code S_kk}, in the same (arbitrary) unit. Entries are written once, by whoever builds the
 * observations, and read by the solvers.
 */
public final class BinObservations {
    /** {@link #coherence} from which on takes are called coherent: unrelated takes stay below 0.1, related ones above 0.9. */
    public static final double COHERENT = 0.5;

    private static final int COHERENCE_FRACTION = 6;
    private static final double COHERENCE_FROM_HZ = 100;
    private static final double COHERENCE_TO_HZ = 8000;

    private final int takes;
    private final double[] hz;
    private final double[] re;
    private final double[] im;
    private final double[] noise;
    private final double averages;
    private final int[] count;
    private boolean noiseOnAverage;
    /** Standard uncertainty of ln g of each take at each bin, as {@link #noise}; empty where there is none. */
    private double[] levelUncertainty = {};

    /**
     * Observations filled with zeros.
     *
     * @param takes number of takes K
     * @param hz bin frequencies in hertz, ascending; length N
     * @param averages independent complex snapshots per bin, allowing for overlap of blocks and correlation of
     *     neighbouring bins; may be below 1
     */
    public BinObservations(int takes, double[] hz, double averages) {
        this.takes = takes;
        this.hz = hz.clone();
        this.averages = averages;
        this.re = new double[hz.length * takes * takes];
        this.im = new double[hz.length * takes * takes];
        this.noise = new double[hz.length * takes];
        this.count = new int[hz.length];
        Arrays.fill(count, 1);
    }

    /** Observations of the same shape and counts, empty. */
    private BinObservations(BinObservations like, int takes) {
        this(takes, like.hz, like.averages);
        System.arraycopy(like.count, 0, count, 0, count.length);
        noiseOnAverage = like.noiseOnAverage;
    }

    /** Sets the matrix of bin {@code i} to the outer product of one complex snapshot per take. */
    public void setSnapshot(int i, double[] dRe, double[] dIm) {
        for (int k = 0; k < takes; k++) {
            for (int l = 0; l < takes; l++) {
                set(i, k, l, dRe[k] * dRe[l] + dIm[k] * dIm[l], dIm[k] * dRe[l] - dRe[k] * dIm[l]);
            }
        }
    }

    /** Sets S_kl of bin {@code i}; the caller sets S_lk to the conjugate. */
    public void set(int i, int k, int l, double real, double imaginary) {
        int at = (i * takes + k) * takes + l;
        re[at] = real;
        im[at] = imaginary;
    }

    /** Sets the noise variance of take {@code k} at bin {@code i}; positive. */
    public void setNoise(int i, int k, double variance) {
        noise[i * takes + k] = variance;
    }

    /**
     * Sets the standard uncertainty of the level of take {@code k} at bin {@code i}, relative: an error that neighbouring bins
     * of the take share, so that they do not average it out. It is carried, never fitted.
     */
    public void setLevelUncertainty(int i, int k, double relative) {
        if (levelUncertainty.length == 0) {
            levelUncertainty = new double[noise.length];
        }
        levelUncertainty[i * takes + k] = relative;
    }

    /** Whether the level of a take is uncertain by an amount that depends on the bin. */
    boolean hasLevelUncertainty() {
        return levelUncertainty.length > 0;
    }

    /** Standard uncertainty of ln g of take {@code k} at bin {@code i} that neighbouring bins share. */
    double levelUncertainty(int i, int k) {
        return levelUncertainty.length == 0 ? 0 : levelUncertainty[i * takes + k];
    }

    /**
     * Says that the stated noise holds on average over neighbouring bins only. How far it is off is then judged by the
     * scores of the bins, which weigh as the estimate does, instead of by all residuals alike.
     */
    public void noiseHoldsOnAverage() {
        noiseOnAverage = true;
    }

    /** Whether the stated noise holds on average over neighbouring bins only. */
    public boolean isNoiseOnAverage() {
        return noiseOnAverage;
    }

    /** Number of takes K. */
    public int takes() {
        return takes;
    }

    /** Number of bins N. */
    public int size() {
        return hz.length;
    }

    /** Frequency of bin {@code i} in hertz. */
    public double hz(int i) {
        return hz[i];
    }

    /** Independent complex snapshots per bin. */
    public double averages() {
        return averages;
    }

    /** Number of bins that bin {@code i} was summed from; its cross products are sums over them. */
    public int count(int i) {
        return count[i];
    }

    /** Real part of S_kl at bin {@code i}. */
    public double re(int i, int k, int l) {
        return re[(i * takes + k) * takes + l];
    }

    /** Imaginary part of S_kl at bin {@code i}. */
    public double im(int i, int k, int l) {
        return im[(i * takes + k) * takes + l];
    }

    /** Noise variance of take {@code k} at bin {@code i}: that of each of the bins it was summed from. */
    public double noise(int i, int k) {
        return noise[i * takes + k];
    }

    /** First bin at or above a frequency in hertz; N if none is. */
    public int firstAtOrAbove(double frequency) {
        int at = Arrays.binarySearch(hz, frequency);
        return at >= 0 ? at : -at - 1;
    }

    /**
     * What two takes hold together in some bins: sums of their cross product, their powers and the noise in these.
     *
     * @param re real part of Σ S_ab
     * @param im imaginary part
     * @param own Σ S_aa
     * @param other Σ S_bb
     * @param ownNoise the noise in {@code own}
     * @param otherNoise the noise in {@code other}
     * @param signal {@code other} less its noise
     * @param count number of bins, each counting as those it was summed from
     */
    public record Pair(
            double re,
            double im,
            double own,
            double other,
            double ownNoise,
            double otherNoise,
            double signal,
            double count) {
        /** Share of signal in the power of a take up to which its noise cannot be taken off with any sense. */
        private static final double LEAST_SIGNAL = 0.1;

        /** {@code |Σ S_ab|²/(Σ S_aa·Σ S_bb)}. */
        double coherence() {
            return own > 0 && other > 0 ? (re * re + im * im) / (own * other) : 0;
        }

        /**
         * ln of the level of take a over that of take b, {@code |Σ S_ab| ∕ Σ (S_bb − σ_b²)}. A take that holds nothing but noise
         * tells no level; what remains is the least bad comparison.
         */
        public double logRatio() {
            return Math.log(Math.hypot(re, im) / (signal > LEAST_SIGNAL * other ? signal : other));
        }
    }

    /** Takes {@code a} and {@code b} in the bins {@code [from, to)}. */
    Pair pair(int from, int to, int a, int b) {
        return pair(from, to, a, b, false);
    }

    /** Takes {@code a} and {@code b} in all bins, each weighted by {@code 1/(σ_a² + σ_b²)}. */
    public Pair weightedPair(int a, int b) {
        return pair(0, hz.length, a, b, true);
    }

    private Pair pair(int from, int to, int a, int b, boolean weighted) {
        double crossRe = 0;
        double crossIm = 0;
        double own = 0;
        double other = 0;
        double ownNoise = 0;
        double otherNoise = 0;
        double signal = 0;
        double bins = 0;
        for (int i = from; i < to; i++) {
            double weight = weighted ? 1 / (noise(i, a) + noise(i, b)) : 1;
            crossRe += weight * re(i, a, b);
            crossIm += weight * im(i, a, b);
            own += weight * re(i, a, a);
            other += weight * re(i, b, b);
            ownNoise += weight * count[i] * noise(i, a);
            otherNoise += weight * count[i] * noise(i, b);
            signal += weight * (re(i, b, b) - count[i] * noise(i, b));
            bins += count[i];
        }
        return new Pair(crossRe, crossIm, own, other, ownNoise, otherNoise, signal, bins);
    }

    /**
     * How far two aligned takes hold the same sound: median over bands of {@code |Σ S_ab|²/(Σ S_aa·Σ S_bb)}, each sum over the
     * bins of a sixth of an octave. The dividers' ratio is smooth there, so the sums stay coherent, and many bins make the value
     * of unrelated takes small.
     */
    public double coherence(int a, int b) {
        FrequencyBands bands = FrequencyBands.within(COHERENCE_FRACTION, COHERENCE_FROM_HZ, COHERENCE_TO_HZ);
        double[] all = new double[bands.size()];
        Arrays.setAll(
                all,
                i -> pair(firstAtOrAbove(bands.lowerEdge(i)), firstAtOrAbove(bands.upperEdge(i)), a, b)
                        .coherence());
        Arrays.sort(all);
        return all[all.length / 2];
    }

    /**
     * The same bins with take {@code k} advanced by {@code seconds[k]}: {@code S_kl·e^(+jω(τ_k − τ_l))}.
     *
     * @param seconds delay to take out of each take
     */
    public BinObservations advanced(double[] seconds) {
        return advanced((k, i) -> seconds[k]);
    }

    /** A delay that depends on take and bin, seconds. */
    @FunctionalInterface
    public interface Delay {
        /** Delay of take {@code k} at bin {@code i}. */
        double of(int k, int i);
    }

    /** The same bins with a delay taken out that may depend on the bin. */
    public BinObservations advanced(Delay seconds) {
        PhaseRotation rotation = new PhaseRotation(takes, seconds);
        BinObservations out = new BinObservations(this, takes);
        System.arraycopy(noise, 0, out.noise, 0, noise.length);
        out.levelUncertainty = levelUncertainty.clone();
        for (int i = 0; i < hz.length; i++) {
            rotation.at(i, hz[i]);
            out.addTurned(i, this, i, rotation);
        }
        return out;
    }

    /** Adds the cross products of another's bin {@code from}, turned, to those of bin {@code i}. */
    void addTurned(int i, BinObservations other, int from, PhaseRotation rotation) {
        for (int k = 0; k < takes; k++) {
            for (int l = 0; l < takes; l++) {
                double c = rotation.re(k, l);
                double s = rotation.im(k, l);
                double a = other.re(from, k, l);
                double b = other.im(from, k, l);
                int at = (i * takes + k) * takes + l;
                re[at] += a * c - b * s;
                im[at] += a * s + b * c;
            }
        }
    }

    /**
     * The same bins with take {@code k} divided by a complex gain: {@code S_kl/(g_k·g_l*)}, {@code σ_k²/|g_k|²}.
     *
     * @param gainRe real parts of g, indexed [take][bin]
     * @param gainIm imaginary parts
     */
    public BinObservations dividedBy(double[][] gainRe, double[][] gainIm) {
        BinObservations out = new BinObservations(this, takes);
        out.levelUncertainty = levelUncertainty.clone();
        for (int i = 0; i < hz.length; i++) {
            for (int k = 0; k < takes; k++) {
                double gr = gainRe[k][i];
                double gi = gainIm[k][i];
                out.setNoise(i, k, noise(i, k) / (gr * gr + gi * gi));
                for (int l = 0; l < takes; l++) {
                    double pr = gr * gainRe[l][i] + gi * gainIm[l][i];
                    double pi = gi * gainRe[l][i] - gr * gainIm[l][i];
                    double d = pr * pr + pi * pi;
                    double a = re(i, k, l);
                    double b = im(i, k, l);
                    out.set(i, k, l, (a * pr + b * pi) / d, (b * pr - a * pi) / d);
                }
            }
        }
        return out;
    }

    /**
     * Neighbouring bins summed into cells of equal width in ln f, where the dividers do not change.
     *
     * <p>Cross products are added up, noise is averaged, so that a cell weighs as much as its bins together.
     *
     * @param perOctave cells per octave
     */
    public BinObservations merged(int perOctave) {
        return merged(perOctave, (k, i) -> 0);
    }

    /**
     * {@link #advanced(Delay)} and {@link #merged(int)} in one, without a copy of all bins.
     *
     * @param perOctave cells per octave
     * @param seconds delay to take out of each take at each bin
     */
    public BinObservations merged(int perOctave, Delay seconds) {
        CellGrid grid = CellGrid.of(this, perOctave);
        BinObservations out = new BinObservations(takes, grid.centres, averages);
        System.arraycopy(grid.members, 0, out.count, 0, out.count.length);
        out.noiseOnAverage = noiseOnAverage;
        out.levelUncertainty = new double[hasLevelUncertainty() ? out.noise.length : 0];
        PhaseRotation rotation = new PhaseRotation(takes, seconds);
        for (int i = 0; i < hz.length; i++) {
            int c = grid.cell[i];
            rotation.at(i, hz[i]);
            out.addTurned(c, this, i, rotation);
            for (int k = 0; k < takes; k++) {
                out.noise[c * takes + k] += count[i] * noise[i * takes + k] / out.count[c];
                if (hasLevelUncertainty()) {
                    out.levelUncertainty[c * takes + k] += count[i] * levelUncertainty(i, k) / out.count[c];
                }
            }
        }
        return out;
    }

    /**
     * The same bins of some of the takes.
     *
     * @param kept indices of the takes to keep, in the wanted order
     */
    public BinObservations only(int[] kept) {
        BinObservations out = new BinObservations(this, kept.length);
        for (int i = 0; i < hz.length; i++) {
            for (int k = 0; k < kept.length; k++) {
                out.setNoise(i, k, noise(i, kept[k]));
                if (hasLevelUncertainty()) {
                    out.setLevelUncertainty(i, k, levelUncertainty(i, kept[k]));
                }
                for (int l = 0; l < kept.length; l++) {
                    out.set(i, k, l, re(i, kept[k], kept[l]), im(i, kept[k], kept[l]));
                }
            }
        }
        return out;
    }

    /** What delays do to the cross products of takes at one bin after another: {@code e^{jω(τ_k − τ_l)}}. */
    private static final class PhaseRotation {
        private final BinObservations.Delay seconds;
        private final double[] re;
        private final double[] im;

        /**
         * A rotation that waits for its first bin.
         *
         * @param takes number of takes K
         * @param seconds delay τ of each take, which may depend on the bin
         */
        PhaseRotation(int takes, BinObservations.Delay seconds) {
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

    /**
     * Cells of equal width in ln f, edges at whole multiples from 1 Hz on; none is empty.
     *
     * @param cell the cell of each bin, counted from 0
     * @param members number of elementary bins in each cell
     * @param centres mean frequency of each cell in hertz
     */
    private record CellGrid(int[] cell, int[] members, double[] centres) {
        /**
         * Sorts bins into cells.
         *
         * @param bins the bins
         * @param perOctave cells per octave
         */
        static CellGrid of(BinObservations bins, int perOctave) {
            int[] cell = new int[bins.size()];
            int[] members = new int[bins.size()];
            double[] sum = new double[bins.size()];
            double before = Double.NaN;
            int cells = 0;
            for (int i = 0; i < cell.length; i++) {
                double now = Math.floor(perOctave * Math.log(bins.hz(i)) / Math.log(2));
                cells += now == before ? 0 : 1;
                before = now;
                cell[i] = cells - 1;
                members[cells - 1] += bins.count(i);
                sum[cells - 1] += bins.count(i) * bins.hz(i);
            }
            double[] centres = new double[cells];
            for (int c = 0; c < cells; c++) {
                centres[c] = sum[c] / members[c];
            }
            return new CellGrid(cell, Arrays.copyOf(members, cells), centres);
        }
    }
}
