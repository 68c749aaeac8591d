package ohmprint.estimate;

import java.util.List;
import java.util.stream.IntStream;
import ohmprint.circuit.Load;
import ohmprint.curve.CauseOrigin;

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

    /**
     * Gain of one take: ε = u on that take.
     *
     * @param take its index
     * @param relative standard uncertainty of ln g
     */
    record Gain(int take, double relative) implements Nuisance {
        @Override
        public CauseOrigin origin() {
            return CauseOrigin.DRIFT;
        }

        @Override
        public String name(LoadedTakes takes) {
            return "level of " + takes.names().get(take);
        }

        @Override
        public void effect(int k, DividerPoint point, double[] out) {
            out[0] = k == take ? relative : 0;
            out[1] = 0;
        }
    }

    /**
     * Level of one take where its uncertainty depends on frequency: ε = u(f) on that take. It may differ from band to band, so it
     * is carried and not fitted as one amount for all.
     *
     * @param take its index
     * @param obs what states u, see {@link BinObservations#setLevelUncertainty}
     */
    record Level(int take, BinObservations obs) implements Nuisance {
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
        public String name(LoadedTakes takes) {
            return "noise in the reference of " + takes.names().get(take);
        }

        @Override
        public void effect(int k, DividerPoint point, double[] out) {
            out[0] = k == take ? obs.levelUncertainty(Math.min(obs.size() - 1, obs.firstAtOrAbove(point.hz())), k) : 0;
            out[1] = 0;
        }
    }

    /**
     * Delay of one take: ε = −jω·u on that take.
     *
     * @param take its index
     * @param seconds standard uncertainty in seconds
     */
    record Delay(int take, double seconds) implements Nuisance {
        @Override
        public CauseOrigin origin() {
            return CauseOrigin.TIMING;
        }

        @Override
        public String name(LoadedTakes takes) {
            return "timing of " + takes.names().get(take);
        }

        @Override
        public void effect(int k, DividerPoint point, double[] out) {
            out[0] = 0;
            out[1] = k == take ? -2 * Math.PI * point.hz() * seconds : 0;
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
}
