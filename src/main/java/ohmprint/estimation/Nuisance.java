package ohmprint.estimation;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.circuit.Load;
import ohmprint.impedance.CauseOrigin;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.jspecify.annotations.Nullable;

/**
 * One thing that all bands of a session share and that is not known exactly, with its standard uncertainty.
 *
 * <p>A deviation of one standard uncertainty multiplies what take k holds by {@code 1 + ε_k(f)}; {@link #effect} gives
 * that ε. Source of the treatment: JCGM 100:2008, 5.1 and 4.3.7 (rectangular tolerances).
 */
sealed interface Nuisance {
    /** Part of the budget. */
    CauseOrigin origin();

    /**
     * What it is, in words.
     *
     * @param takes the takes, for their names
     */
    String name(LoadedTakes takes);

    /**
     * Whether it is equally likely anywhere within ±√3 standard uncertainties and nowhere else, as a tolerance is; otherwise
     * it is normally distributed.
     *
     * @param takes the takes, for their input
     */
    default boolean isTolerance(LoadedTakes takes) {
        return false;
    }

    /**
     * Relative change of take {@code k} for a deviation of one standard uncertainty.
     *
     * @param k take index
     * @param point frequency, source impedance and divider state
     * @param out receives real and imaginary part of ε_k
     */
    void effect(int k, DividerPoint point, double[] out);

    /** Something about one take that leaves the others as they are. */
    sealed interface OfTake extends Nuisance {
        /** Index of the take. */
        int take();

        /** What of the take it is, in words. */
        String what();

        /** Real part of ε on the take. */
        default double re(DividerPoint point) {
            return 0;
        }

        /** Imaginary part of ε on the take. */
        default double im(DividerPoint point) {
            return 0;
        }

        @Override
        default String name(LoadedTakes takes) {
            return what() + " of " + takes.names().get(take());
        }

        @Override
        default void effect(int k, DividerPoint point, double[] out) {
            out[0] = k == take() ? re(point) : 0;
            out[1] = k == take() ? im(point) : 0;
        }
    }

    /**
     * Gain of one take: ε = u on that take.
     *
     * @param take its index
     * @param relative standard uncertainty of ln g
     */
    record Gain(int take, double relative) implements OfTake {
        @Override
        public CauseOrigin origin() {
            return CauseOrigin.DRIFT;
        }

        @Override
        public String what() {
            return "level";
        }

        @Override
        public double re(DividerPoint point) {
            return relative;
        }
    }

    /**
     * Level of one take where its uncertainty depends on frequency: ε = u(f) on that take. It may differ from band to band, so it
     * is carried and not fitted as one amount for all.
     *
     * @param take its index
     * @param obs what states u, see {@link BinObservations#setLevelUncertainty}
     */
    record Level(int take, BinObservations obs) implements OfTake {
        /** One for each take, none where nothing is stated. */
        static List<Nuisance> of(BinObservations obs) {
            return obs.hasLevelUncertainty()
                    ? IntStream.range(0, obs.takes())
                            .<Nuisance>mapToObj(k -> new Level(k, obs))
                            .toList()
                    : List.of();
        }

        @Override
        public CauseOrigin origin() {
            return CauseOrigin.NOISE;
        }

        @Override
        public String what() {
            return "noise in the reference";
        }

        @Override
        public double re(DividerPoint point) {
            return obs.levelUncertainty(Math.min(obs.size() - 1, obs.firstAtOrAbove(point.hz())), take);
        }
    }

    /**
     * Delay of one take: ε = −jω·u on that take.
     *
     * @param take its index
     * @param seconds standard uncertainty in seconds
     */
    record Delay(int take, double seconds) implements OfTake {
        @Override
        public CauseOrigin origin() {
            return CauseOrigin.TIMING;
        }

        @Override
        public String what() {
            return "timing";
        }

        @Override
        public double im(DividerPoint point) {
            return -2 * Math.PI * point.hz() * seconds;
        }
    }

    /**
     * One resistor, which may serve several takes: ε = u·Z·h·G on the takes that use it.
     *
     * @param load the resistor
     * @param used for each take whether it carries this resistor
     */
    record Resistor(Load load, boolean[] used) implements Nuisance {
        /** Copies the array. */
        public Resistor {
            used = used.clone();
        }

        @Override
        public CauseOrigin origin() {
            return CauseOrigin.LOADS;
        }

        @Override
        public String name(LoadedTakes takes) {
            return "resistor of " + load.label();
        }

        @Override
        public boolean isTolerance(LoadedTakes takes) {
            return !load.isMeasured();
        }

        @Override
        public void effect(int k, DividerPoint point, double[] out) {
            double g = used[k] ? load.relativeStandardUncertainty() * load.conductance() : 0;
            out[0] = g * point.zhRe(k);
            out[1] = g * point.zhIm(k);
        }
    }

    /**
     * One influence on the recording input, in all takes: ε = −Z·h·δY.
     *
     * @param index which of the input's influences
     */
    record Input(int index) implements Nuisance {
        @Override
        public CauseOrigin origin() {
            return CauseOrigin.INPUT;
        }

        @Override
        public String name(LoadedTakes takes) {
            return takes.input().influences().get(index);
        }

        @Override
        public boolean isTolerance(LoadedTakes takes) {
            return takes.input().isTolerance(index);
        }

        @Override
        public void effect(int k, DividerPoint point, double[] out) {
            double a = point.inputEffectRe(index);
            double b = point.inputEffectIm(index);
            out[0] = -(a * point.zhRe(k) - b * point.zhIm(k));
            out[1] = -(a * point.zhIm(k) + b * point.zhRe(k));
        }
    }

    /**
     * Gains, delays, loads and input as they are if the nuisances depart from what was entered by given amounts, in standard
     * uncertainties: {@code g = e^(uθ)}, {@code τ = uθ}, {@code G = G₀·e^(−uθ)}, {@code Y_in = Y_0 + θ·δY}.
     *
     * <p>To first order this is {@link Nuisance#effect}; here it is carried out exactly, so that deviations of several per cent
     * leave nothing of second order behind.
     */
    static final class NuisanceOffsets {
        private final double[] logGain;
        private final double[] seconds;
        private final double[] loadFactor;
        private final double[] input;

        private NuisanceOffsets(int takes, double[] input) {
            logGain = new double[takes];
            seconds = new double[takes];
            loadFactor = new double[takes];
            this.input = input;
            Arrays.fill(loadFactor, 1);
        }

        /**
         * Departures of all nuisances.
         *
         * @param nuisances what may depart
         * @param amount by how much each does, in standard uncertainties
         * @param takes number of takes
         */
        static NuisanceOffsets of(List<Nuisance> nuisances, double[] amount, int takes) {
            int influences = (int)
                    nuisances.stream().filter(Nuisance.Input.class::isInstance).count();
            NuisanceOffsets out = new NuisanceOffsets(takes, new double[influences]);
            for (int n = 0; n < amount.length; n++) {
                Nuisance one = nuisances.get(n);
                if (one instanceof Nuisance.Gain g) {
                    out.logGain[g.take()] += g.relative() * amount[n];
                } else if (one instanceof Nuisance.Delay d) {
                    out.seconds[d.take()] += d.seconds() * amount[n];
                } else if (one instanceof Nuisance.Resistor r) {
                    for (int k = 0; k < takes; k++) {
                        if (r.used()[k]) {
                            out.loadFactor[k] *= Math.exp(-amount[n] * r.load().relativeStandardUncertainty());
                        }
                    }
                } else if (one instanceof Nuisance.Input i) {
                    out.input[i.index()] += amount[n];
                }
            }
            return out;
        }

        /** The takes with these gains and delays taken out. */
        BinObservations corrected(BinObservations obs) {
            if (Arrays.stream(logGain).allMatch(g -> g == 0)
                    && Arrays.stream(seconds).allMatch(s -> s == 0)) {
                return obs;
            }
            double[][] re = new double[obs.takes()][obs.size()];
            double[][] im = new double[obs.takes()][obs.size()];
            for (int k = 0; k < re.length; k++) {
                double gain = Math.exp(logGain[k]);
                for (int i = 0; i < obs.size(); i++) {
                    double phase = -2 * Math.PI * obs.hz(i) * seconds[k];
                    re[k][i] = gain * Math.cos(phase);
                    im[k][i] = gain * Math.sin(phase);
                }
            }
            return obs.dividedBy(re, im);
        }

        /** Moves the admittances of the takes at one frequency, in siemens. */
        void shift(LoadedTakes takes, double hz, double[] yRe, double[] yIm) {
            double re = 0;
            double im = 0;
            if (input.length > 0) {
                List<Complex> effects = takes.input().standardEffects(hz);
                for (int i = 0; i < input.length; i++) {
                    re += input[i] * effects.get(i).getReal();
                    im += input[i] * effects.get(i).getImaginary();
                }
            }
            for (int k = 0; k < yRe.length; k++) {
                yRe[k] += re + takes.loads().get(k).conductance() * (loadFactor[k] - 1);
                yIm[k] += im;
            }
        }
    }

    /**
     * Independent causes of what the nuisances leave in a curve.
     *
     * <p>Of nuisances with the covariance P after a fit (in units of what was believed) the error is {@code P·θ}, θ ~ N(0, 1) being
     * the departures themselves, plus what the noise put into the fit, of covariance P − P². So each nuisance stays a cause of its
     * own name, moving Z by S·P instead of by S, and the noise adds a few causes that all bands share. Together they give
     * {@code S·(P² + P − P²)·Sᵀ = S·P·Sᵀ}. Without a fit P is the unit matrix and the nuisances are the causes.
     */
    static final class PosteriorCauses {
        private static final double NEGLIGIBLE = 1e-10;

        /**
         * One of them.
         *
         * @param name what it is, in words
         * @param origin part of the budget
         * @param isTolerance whether it is distributed as a tolerance is, see {@link Nuisance#isTolerance}
         */
        record Cause(String name, CauseOrigin origin, boolean isTolerance) {}

        private final List<Cause> causes = new ArrayList<>();
        /** Nuisances down, causes across. */
        private final double[][] mixture;

        /**
         * The causes that remain.
         *
         * @param nuisances the nuisances
         * @param takes the takes, for their names
         * @param covariance P, or null for the unit matrix
         */
        PosteriorCauses(List<Nuisance> nuisances, LoadedTakes takes, @Nullable RealMatrix covariance) {
            int n = nuisances.size();
            List<double[]> columns = new ArrayList<>();
            for (int c = 0; c < n; c++) {
                Nuisance one = nuisances.get(c);
                causes.add(new Cause(one.name(takes), one.origin(), one.isTolerance(takes)));
                columns.add(covariance == null ? unit(n, c) : covariance.getColumn(c));
            }
            if (covariance != null) {
                addNoise(covariance, columns);
            }
            mixture = new double[n][columns.size()];
            for (int c = 0; c < columns.size(); c++) {
                for (int a = 0; a < n; a++) {
                    mixture[a][c] = columns.get(c)[a];
                }
            }
        }

        private static double[] unit(int size, int place) {
            double[] out = new double[size];
            out[place] = 1;
            return out;
        }

        private void addNoise(RealMatrix covariance, List<double[]> columns) {
            EigenDecomposition eigen = eigen(covariance);
            int count = 0;
            for (int e = 0; e < covariance.getRowDimension(); e++) {
                double left = eigen.getRealEigenvalue(e);
                double noise = left * (1 - left);
                if (noise > NEGLIGIBLE) {
                    count++;
                    causes.add(new Cause("noise in what all bands share, part " + count, CauseOrigin.NOISE, false));
                    columns.add(eigen.getEigenvector(e)
                            .mapMultiply(Math.sqrt(noise))
                            .toArray());
                }
            }
        }

        /** Of a covariance; rounding must not make it look unsymmetric, for the general method need not come to an end. */
        static EigenDecomposition eigen(RealMatrix covariance) {
            return new EigenDecomposition(covariance.add(covariance.transpose()).scalarMultiply(0.5));
        }

        int size() {
            return causes.size();
        }

        Cause get(int cause) {
            return causes.get(cause);
        }

        /** Sensitivities to the nuisances as sensitivities to the causes. */
        double[] of(double[] sensitivity) {
            double[] out = new double[size()];
            for (int a = 0; a < sensitivity.length; a++) {
                for (int c = 0; c < out.length; c++) {
                    out[c] += sensitivity[a] * mixture[a][c];
                }
            }
            return out;
        }
    }
}
