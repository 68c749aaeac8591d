package ohmprint.estimate;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import ohmprint.curve.BandBudget;
import ohmprint.curve.CauseOrigin;
import ohmprint.curve.PlaneCovariance;
import ohmprint.curve.SharedErrors;
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
public final class Predictor {
    /** So many bands, evenly spread, stand for all in what is said about shared errors. */
    private static final int LOOKS = 12;

    private final ExpectedSession expected;
    private final Priors priors;
    private final SharedErrors shared;
    private final Complex[] ohms;
    /** Bands in the order in which they are looked at: those that decided lately come first. */
    private final List<Integer> order;

    /**
     * A predictor for a solver that does what is usual with shared errors.
     *
     * @param expected what the session is expected to meet
     * @param priors what is believed about gains and delays of the takes
     */
    public Predictor(ExpectedSession expected, Priors priors) {
        this(expected, priors, SharedErrors.USUAL);
    }

    /**
     * A predictor.
     *
     * @param expected what the session is expected to meet
     * @param priors what is believed about gains and delays of the takes
     * @param shared what the solver will do about errors that all bands share
     */
    public Predictor(ExpectedSession expected, Priors priors, SharedErrors shared) {
        this.expected = expected;
        this.priors = priors;
        this.shared = shared;
        int size = expected.bands().size();
        ohms = IntStream.range(0, size)
                .mapToObj(b -> expected.source().impedance(expected.bands().midband(b)))
                .toArray(Complex[]::new);
        order = new ArrayList<>(IntStream.range(0, size).boxed().toList());
    }

    /** The prediction for takes with these loads. */
    public Prediction predict(LoadedTakes takes) {
        List<Nuisance> nuisances = priors.nuisances(takes);
        RemainingCauses causes = new RemainingCauses(nuisances, takes, remaining(takes, nuisances));
        List<PredictedBand> bands = new ArrayList<>();
        for (int b = 0; b < ohms.length; b++) {
            BandFit fit = fit(takes, nuisances, b);
            bands.add(
                    fit == null
                            ? PredictedBand.nothing(expected.bands().midband(b), ohms[b])
                            : band(fit.withCauses(causes), causes));
        }
        return new Prediction(bands, expected.seconds());
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
            BandFit fit = fit(takes, nuisances, order.get(at));
            double percent = fit == null ? Double.POSITIVE_INFINITY : percent(fit, remaining);
            worst = Math.max(worst, percent);
            if (worst > enough) {
                order.add(0, order.remove(at));
                break;
            }
        }
        return worst;
    }

    /** What noise alone makes of a band: no more than all causes together. */
    private double noisePercent(LoadedTakes takes, int b) {
        BandFit fit = fit(takes, List.of(), b);
        return fit == null
                ? Double.POSITIVE_INFINITY
                : PredictedBand.percent(Math.sqrt(fit.noiseVariance()), ohms[b].abs());
    }

    /** Covariance of the nuisances that the solver will be left with; null for what is believed of them. */
    private @Nullable RealMatrix remaining(LoadedTakes takes, List<Nuisance> nuisances) {
        if (shared == SharedErrors.CARRIED || !SharedFit.isPossible(takes, nuisances)) {
            return null;
        }
        SharedInformation sum = new SharedInformation(takes.size(), nuisances);
        int every = Math.max(1, Math.round((float) ohms.length / LOOKS));
        for (int b = every / 2; b < ohms.length; b += every) {
            solver(takes, nuisances, b, every).addAt(sum, 0, ohms[b].getReal(), ohms[b].getImaginary());
        }
        return SharedFit.expectedCovariance(sum);
    }

    /** First order of S·P·Sᵀ along Z, without the detour over causes. */
    private static double percent(BandFit fit, @Nullable RealMatrix remaining) {
        RealVector re = new ArrayRealVector(fit.sensitivityRe());
        RealVector im = new ArrayRealVector(fit.sensitivityIm());
        RealVector mixedRe = remaining == null ? re : remaining.operate(re);
        RealVector mixedIm = remaining == null ? im : remaining.operate(im);
        PlaneCovariance all = new PlaneCovariance(
                        re.dotProduct(mixedRe), im.dotProduct(mixedIm), re.dotProduct(mixedIm))
                .plus(PlaneCovariance.circular(Math.sqrt(fit.noiseVariance())));
        return PredictedBand.u95Percent(fit.resistanceOhm(), fit.reactanceOhm(), all);
    }

    private static PredictedBand band(BandFit fit, RemainingCauses causes) {
        double r = fit.resistanceOhm();
        double x = fit.reactanceOhm();
        Map<CauseOrigin, Double> variance = new EnumMap<>(CauseOrigin.class);
        for (int n = 0; n < causes.size(); n++) {
            double u = PlaneCovariance.ofCause(fit.sensitivityRe()[n], fit.sensitivityIm()[n])
                    .modulusUncertainty(r, x);
            variance.merge(causes.origin(n), u * u, Double::sum);
        }
        BandBudget budget = new BandBudget(
                Math.sqrt(fit.noiseVariance() + variance.getOrDefault(CauseOrigin.NOISE, 0.0)),
                Math.sqrt(variance.getOrDefault(CauseOrigin.DRIFT, 0.0)),
                Math.sqrt(variance.getOrDefault(CauseOrigin.LOADS, 0.0)),
                Math.sqrt(variance.getOrDefault(CauseOrigin.INPUT, 0.0)),
                Math.sqrt(variance.getOrDefault(CauseOrigin.TIMING, 0.0)));
        return new PredictedBand(fit.frequencyHz(), r, x, covariance(fit), budget);
    }

    private static PlaneCovariance covariance(BandFit fit) {
        PlaneCovariance all = PlaneCovariance.circular(Math.sqrt(fit.noiseVariance()));
        for (int n = 0; n < fit.sensitivityRe().length; n++) {
            all = all.plus(PlaneCovariance.ofCause(fit.sensitivityRe()[n], fit.sensitivityIm()[n]));
        }
        return all;
    }

    private @Nullable BandFit fit(LoadedTakes takes, List<Nuisance> nuisances, int b) {
        return solver(takes, nuisances, b, 1)
                .statedAt(0, 1, expected.bands().midband(b), ohms[b].getReal(), ohms[b].getImaginary());
    }

    /** A solver whose one bin stands for a band, or for several like it. */
    private BandSolver solver(LoadedTakes takes, List<Nuisance> nuisances, int b, int bands) {
        double hz = expected.bands().midband(b);
        DividerPoint point = new DividerPoint(takes);
        point.frequency(hz);
        point.impedance(ohms[b].getReal(), ohms[b].getImaginary());
        double noise = noise(takes, hz, ohms[b]) / (bands * expected.binsIn(b));
        int k = takes.size();
        BinObservations obs = new BinObservations(k, new double[] {hz}, 1);
        double[] re = IntStream.range(0, k).mapToDouble(point::hRe).toArray();
        double[] im = IntStream.range(0, k).mapToDouble(point::hIm).toArray();
        obs.setSnapshot(0, re, im);
        for (int i = 0; i < k; i++) {
            obs.set(0, i, i, re[i] * re[i] + im[i] * im[i] + noise, 0);
            obs.setNoise(0, i, noise);
        }
        return new BandSolver(obs, takes, nuisances);
    }

    /** σ² of one bin: that of the take without a resistor, whose signal is |1/(1 + Z·Y_in)|². */
    private double noise(LoadedTakes takes, double hz, Complex z) {
        double loss = takes.input().admittance(hz).multiply(z).add(1).abs();
        return 1 / (loss * loss * expected.signalToNoise());
    }
}
