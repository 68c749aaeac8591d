package ohmprint.estimation;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;
import ohmprint.circuit.SourceModel;
import ohmprint.estimation.BandSolver.BandFit;
import ohmprint.estimation.BandUncertainty.CombinedUncertainty;
import ohmprint.estimation.SharedInformation.PerBinFit;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.CauseOrigin;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SharedErrors;
import ohmprint.uncertainty.CoverageFactor;
import ohmprint.uncertainty.ToleranceFactor;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.jspecify.annotations.Nullable;

/**
 * Foretells the uncertainty of a session: the information and the sensitivities of {@link BandSolver} at the expected
 * impedance, on bins that hold the expectation {@code S_kl = h_k·h_l* + σ²·δ_kl} instead of recordings (|A| = 1).
 *
 * <p>A band of n bins is one bin with the noise σ²/n, since Z hardly changes within a band and its bins lie evenly about
 * the midband. Not for use by several threads at once.
 */
public final class UncertaintyPredictor {
    /** So many bands, evenly spread, stand for all in what is said about shared errors. */
    private static final int LOOKS = 12;
    /** Lengths of the sound that are looked at, from a part of the expected one to as many times it. */
    private static final double MOST_TIMES = 1e6;

    private static final double LENGTH_KNOWN = 1e-7;

    private final ExpectedSession expected;
    private final Priors priors;
    private final SharedErrors shared;
    private final Complex[] ohms;
    /** Student's t for the fewest degrees of freedom of any part. */
    private final double largestFactor;
    /** Bands in the order in which they are looked at: those that decided lately come first. */
    private final List<Integer> order;

    /**
     * A predictor for a solver that does what is usual with shared errors.
     *
     * @param expected what the session is expected to meet
     * @param priors what is believed about gains and delays of the takes
     */
    public UncertaintyPredictor(ExpectedSession expected, Priors priors) {
        this(expected, priors, SharedErrors.USUAL);
    }

    /**
     * A predictor.
     *
     * @param expected what the session is expected to meet
     * @param priors what is believed about gains and delays of the takes
     * @param shared what the solver will do about errors that all bands share
     */
    public UncertaintyPredictor(ExpectedSession expected, Priors priors, SharedErrors shared) {
        this.expected = expected;
        this.priors = priors;
        this.shared = shared;
        largestFactor = CoverageFactor.student(Math.min(2 * CoherentSolver.POOLED_FREEDOM, priors.gainFreedom()));
        int size = expected.bands().size();
        ohms = IntStream.range(0, size)
                .mapToObj(b -> expected.source().impedance(expected.bands().midband(b)))
                .toArray(Complex[]::new);
        order = new ArrayList<>(IntStream.range(0, size).boxed().toList());
    }

    /** The prediction for takes with these loads. */
    public Prediction predict(LoadedTakes takes) {
        List<Nuisance> nuisances = priors.nuisances(takes);
        @Nullable RealMatrix remaining = remaining(takes, nuisances);
        List<PredictedBand> bands = new ArrayList<>();
        for (int b = 0; b < ohms.length; b++) {
            BandFit fit = fit(takes, nuisances, b);
            bands.add(
                    fit == null
                            ? PredictedBand.nothing(expected.bands().midband(b), ohms[b])
                            : band(fit, modulus(fit, takes, nuisances, remaining, b), remaining));
        }
        return new Prediction(bands);
    }

    /**
     * The relative 95 % uncertainty of |Z| in the worst band, in percent, or any number above {@code enough} as soon as it
     * is known to be higher than that.
     */
    public double worstPercent(LoadedTakes takes, double enough) {
        List<Nuisance> nuisances = priors.nuisances(takes);
        if (noisePercent(takes, order.get(0)) > enough) {
            return Double.POSITIVE_INFINITY;
        }
        @Nullable RealMatrix remaining = remaining(takes, nuisances);
        double worst = 0;
        for (int at = 0; at < order.size(); at++) {
            int b = order.get(at);
            BandFit fit = fit(takes, nuisances, b);
            worst = fit == null
                    ? Double.POSITIVE_INFINITY
                    : worse(modulus(fit, takes, nuisances, remaining, b), b, worst, enough);
            if (worst > enough) {
                order.add(0, order.remove(at));
                break;
            }
        }
        return worst;
    }

    /**
     * Length of the sound in seconds with which the worst band reaches a wanted relative 95 % uncertainty; infinite when none
     * up to {@value #MOST_TIMES} times the expected one does. Only noise falls with the length, its variance as one over it.
     *
     * @param wantedPercent wanted uncertainty of |Z| in percent, positive
     */
    public double secondsFor(LoadedTakes takes, double wantedPercent) {
        double low = -Math.log(MOST_TIMES);
        double high = Math.log(MOST_TIMES);
        if (!reaches(takes, wantedPercent, high)) {
            return Double.POSITIVE_INFINITY;
        }
        while (high - low > LENGTH_KNOWN) {
            double middle = (low + high) / 2;
            if (reaches(takes, wantedPercent, middle)) {
                high = middle;
            } else {
                low = middle;
            }
        }
        return expected.seconds() * Math.exp(high);
    }

    private boolean reaches(LoadedTakes takes, double percent, double logTimes) {
        ExpectedSession then = expected.lasting(expected.seconds() * Math.exp(logTimes));
        return new UncertaintyPredictor(then, priors, shared).worstPercent(takes, percent) <= percent;
    }

    /** What noise alone makes of a band: no more than all causes together. */
    private double noisePercent(LoadedTakes takes, int b) {
        BandFit fit = fit(takes, List.of(), b);
        return fit == null
                ? Double.POSITIVE_INFINITY
                : percent(CoverageFactor.NORMAL * Math.sqrt(fit.noiseVariance()), b);
    }

    /** The larger one of {@code worst} and the percentage of band {@code b}; the factor is found only where it decides. */
    private double worse(CombinedUncertainty modulus, int b, double worst, double enough) {
        double standard = percent(modulus.combined(), b);
        if (ToleranceFactor.LEAST * standard > enough) {
            return Double.POSITIVE_INFINITY;
        }
        return largestFactor * standard > worst ? Math.max(worst, modulus.factor() * standard) : worst;
    }

    private double percent(double ohm, int b) {
        return 100 * ohm / ohms[b].abs();
    }

    /** Covariance of the nuisances that the solver will be left with; null for what is believed of them. */
    private @Nullable RealMatrix remaining(LoadedTakes takes, List<Nuisance> nuisances) {
        if (!SharedFit.isMade(shared, takes, nuisances)) {
            return null;
        }
        SharedInformation sum = new SharedInformation(takes.size(), nuisances);
        int every = Math.max(1, Math.round((float) ohms.length / LOOKS));
        for (int b = every / 2; b < ohms.length; b += every) {
            if (expected.signalToNoise().applyAsDouble(b) > 0) {
                new PerBinFit(observed(takes, b, every), new DividerPoint(takes), takes)
                        .addAt(sum, 0, ohms[b].getReal(), ohms[b].getImaginary());
            }
        }
        return SharedFit.expectedCovariance(sum);
    }

    /**
     * What the uncertainty of |Z| will be made of, as {@link BandUncertainty} adds it up: with the sensitivities s along Z and the
     * covariance P of what is left of the nuisances, P·s is the share of each and sᵀ·(P − P²)·s that of the noise in them.
     */
    private CombinedUncertainty modulus(
            BandFit fit, LoadedTakes takes, List<Nuisance> nuisances, @Nullable RealMatrix remaining, int b) {
        double a = fit.resistanceOhm() / ohms[b].abs();
        double c = fit.reactanceOhm() / ohms[b].abs();
        RealVector along =
                new ArrayRealVector(fit.sensitivityRe()).combine(a, c, new ArrayRealVector(fit.sensitivityIm()));
        RealVector left = remaining == null ? along : remaining.operate(along);
        CombinedUncertainty sum = new CombinedUncertainty(
                Math.sqrt(fit.noiseVariance()), noiseFreedom(takes, b), priors.gainFreedom(), nuisances.size());
        for (int n = 0; n < nuisances.size(); n++) {
            Nuisance one = nuisances.get(n);
            sum.add(left.getEntry(n), one.origin(), one.isTolerance(takes));
        }
        sum.add(Math.sqrt(Math.max(0, along.dotProduct(left) - left.dotProduct(left))), CauseOrigin.NOISE, false);
        return sum;
    }

    /** Degrees of freedom of the noise: those of the band, or as many as its neighbours have to bring. */
    private double noiseFreedom(LoadedTakes takes, int b) {
        return 2 * Math.max(CoherentSolver.POOLED_FREEDOM, expected.binsIn(b) * (takes.size() - 1) - 2);
    }

    private static PredictedBand band(BandFit fit, CombinedUncertainty modulus, @Nullable RealMatrix remaining) {
        RealVector re = new ArrayRealVector(fit.sensitivityRe());
        RealVector im = new ArrayRealVector(fit.sensitivityIm());
        RealVector leftRe = remaining == null ? re : remaining.operate(re);
        RealVector leftIm = remaining == null ? im : remaining.operate(im);
        PlaneCovariance all = new PlaneCovariance(re.dotProduct(leftRe), im.dotProduct(leftIm), re.dotProduct(leftIm))
                .plus(PlaneCovariance.circular(Math.sqrt(fit.noiseVariance())));
        return new PredictedBand(
                fit.frequencyHz(), fit.resistanceOhm(), fit.reactanceOhm(), all, modulus.expanded(), modulus.budget());
    }

    private @Nullable BandFit fit(LoadedTakes takes, List<Nuisance> nuisances, int b) {
        if (!(expected.signalToNoise().applyAsDouble(b) > 0)) {
            return null;
        }
        return new BandSolver(observed(takes, b, 1), takes, nuisances)
                .statedAt(0, 1, expected.bands().midband(b), ohms[b].getReal(), ohms[b].getImaginary());
    }

    /** One bin that stands for a band, or for several like it. */
    private BinObservations observed(LoadedTakes takes, int b, int bands) {
        double hz = expected.bands().midband(b);
        DividerPoint point = new DividerPoint(takes);
        point.frequency(hz);
        point.impedance(ohms[b].getReal(), ohms[b].getImaginary());
        double noise = noise(takes, b) / (bands * expected.binsIn(b));
        int k = takes.size();
        BinObservations obs = new BinObservations(k, new double[] {hz}, 1);
        double[] re = IntStream.range(0, k).mapToDouble(point::hRe).toArray();
        double[] im = IntStream.range(0, k).mapToDouble(point::hIm).toArray();
        obs.setSnapshot(0, re, im);
        for (int i = 0; i < k; i++) {
            obs.set(0, i, i, re[i] * re[i] + im[i] * im[i] + noise, 0);
            obs.setNoise(0, i, noise);
        }
        return obs;
    }

    /** σ² of one bin: that of the take without a resistor, whose signal is |1/(1 + Z·Y_in)|². */
    private double noise(LoadedTakes takes, int b) {
        double hz = expected.bands().midband(b);
        double loss = takes.input().admittance(hz).multiply(ohms[b]).add(1).abs();
        return 1 / (loss * loss * expected.signalToNoise().applyAsDouble(b));
    }

    /**
     * What is foretold of a session, band by band.
     *
     * @param bands one entry per band, in ascending frequency
     */
    public record Prediction(List<PredictedBand> bands) {
        /** Copies the list. */
        public Prediction {
            bands = List.copyOf(bands);
        }

        /** The band with the largest relative uncertainty. */
        public PredictedBand worst() {
            return bands.stream()
                    .max(Comparator.comparingDouble(PredictedBand::u95Percent))
                    .orElseThrow();
        }

        /** Median over the bands of the relative 95 % uncertainty of |Z|, percent. */
        public double medianPercent() {
            double[] sorted = bands.stream()
                    .mapToDouble(PredictedBand::u95Percent)
                    .sorted()
                    .toArray();
            int half = sorted.length / 2;
            return sorted.length % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
        }
    }

    /**
     * What is foretold for one band.
     *
     * @param frequencyHz midband in hertz
     * @param resistanceOhm expected R in ohms
     * @param reactanceOhm expected X in ohms
     * @param covariance predicted covariance of (R, X) in Ω²
     * @param u95Ohm predicted 95 % expanded uncertainty of |Z| in ohms, as a measurement states it away from the origin
     * @param budget predicted standard uncertainty of |Z| by origin, ohms
     */
    public record PredictedBand(
            double frequencyHz,
            double resistanceOhm,
            double reactanceOhm,
            PlaneCovariance covariance,
            double u95Ohm,
            BandBudget budget) {
        /** A band about which the takes will say nothing. */
        static PredictedBand nothing(double hz, Complex ohms) {
            double none = Double.POSITIVE_INFINITY;
            return new PredictedBand(
                    hz,
                    ohms.getReal(),
                    ohms.getImaginary(),
                    new PlaneCovariance(none, none, 0),
                    none,
                    new BandBudget(none, 0, 0, 0, 0));
        }

        /** |Z| in ohms. */
        public double magnitudeOhm() {
            return Math.hypot(resistanceOhm, reactanceOhm);
        }

        /** Relative 95 % expanded uncertainty of |Z| in percent. */
        public double u95Percent() {
            return 100 * u95Ohm / magnitudeOhm();
        }
    }

    /**
     * What a session is expected to meet, before it is recorded.
     *
     * <p>The noise counts as equally strong in all takes, so a load takes from the signal alone.
     *
     * @param bands bands that the result is wanted on
     * @param source source impedance that is expected
     * @param signalToNoise for each band, numbered from 0, the power ratio in each bin of width {@code 1/seconds} of a take without
     *     a resistor; nothing above 0 says that there is no signal
     * @param seconds length of the sound in seconds
     */
    public record ExpectedSession(
            FrequencyBands bands, SourceModel source, IntToDoubleFunction signalToNoise, double seconds) {
        /** Checks the length. */
        public ExpectedSession {
            if (!(seconds > 0) || Double.isInfinite(seconds)) {
                throw new IllegalArgumentException(
                        "a sound of " + seconds + " s is not possible; give a length above 0 s");
            }
        }

        /**
         * With the same ratio of signal and noise in all bins: what a sweep with constant time per octave gives over an ambient
         * noise of constant power per octave.
         *
         * @param bands bands that the result is wanted on
         * @param source source impedance that is expected
         * @param signalToNoise power ratio in each bin of a take without a resistor
         * @param seconds length of the sound in seconds
         */
        public ExpectedSession(FrequencyBands bands, SourceModel source, double signalToNoise, double seconds) {
            this(bands, source, b -> signalToNoise, seconds);
            if (!(signalToNoise > 0) || Double.isInfinite(signalToNoise)) {
                throw new IllegalArgumentException("a signal-to-noise ratio of " + signalToNoise
                        + " is not possible; give a positive power ratio");
            }
        }

        /** The same with a sound of another length in seconds. */
        public ExpectedSession lasting(double length) {
            return new ExpectedSession(bands, source, signalToNoise, length);
        }

        /** Bins that fall into band {@code b}: its width times the length of the sound, not rounded. */
        double binsIn(int b) {
            return (bands.upperEdge(b) - bands.lowerEdge(b)) * seconds;
        }
    }
}
