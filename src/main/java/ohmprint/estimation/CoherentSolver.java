package ohmprint.estimation;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import ohmprint.estimation.BandSolver.BandFit;
import ohmprint.estimation.Nuisance.NuisanceOffsets;
import ohmprint.estimation.Nuisance.PosteriorCauses;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ChiSquare;
import ohmprint.impedance.Consistency;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SharedCause;
import ohmprint.impedance.SharedErrors;
import org.apache.commons.math3.linear.MatrixUtils;
import org.apache.commons.math3.linear.RealMatrix;
import org.jspecify.annotations.Nullable;

/**
 * Solver of the three coherent routes: what all bands share is fitted first where the takes allow it ({@link SharedFit}),
 * then every band for itself, with what remains of the shared causes propagated.
 *
 * <p>The noise variance is the stated one times a factor observed in the residuals of the band and its neighbours. What a
 * band then states is in {@link BandUncertainty}.
 */
public final class CoherentSolver {
    /** Bins below which a band borrows from its neighbours. */
    private static final int ENOUGH_BINS = 6;
    /** Farthest reach of a borrowing band, in half band widths. */
    private static final double FARTHEST = 3;
    /** Reach of a fit to either side in ln f, a twenty-fourth of an octave: beyond it a straight Z is too coarse a model. */
    private static final double WIDEST_FIT = Math.log(FrequencyBands.OCTAVE_RATIO) / 24;
    /** Degrees of freedom that the noise factor is pooled to. */
    static final double POOLED_FREEDOM = 40;

    private static final double LEAST_POOL = 4;

    /** Bend of Z in a band from which it counts, in standard uncertainties. */
    private static final double BEND_COUNTS = 0.1;
    /** Bend from which it is seen, in standard deviations of its own noise: noise alone exceeds it in 3 bands of 1000. */
    private static final double BEND_SEEN = 3.4;
    /** Bend, in standard uncertainties, from which a second order leaves too much of it. */
    private static final double BEND_IS_SHARP = 0.7;
    /** What a second order leaves of it at most, up to Q 12 in a twelfth of an octave. */
    private static final double LEFT_OF_BEND = 0.35;

    private static final int BINS_FOR_SECOND = 5;
    private static final int BINS_FOR_FOURTH = 8;

    private final FrequencyBands bands;
    private final Priors priors;
    private final SharedErrors shared;

    /**
     * A solver that treats errors common to all bands as is best.
     *
     * @param bands grid on which values are wanted
     * @param priors what is believed about gains and delays
     */
    public CoherentSolver(FrequencyBands bands, Priors priors) {
        this(bands, priors, SharedErrors.USUAL);
    }

    /**
     * A solver.
     *
     * @param bands grid on which values are wanted
     * @param priors what is believed about gains and delays
     * @param shared what is done about errors that all bands share
     */
    public CoherentSolver(FrequencyBands bands, Priors priors, SharedErrors shared) {
        this.bands = bands;
        this.priors = priors;
        this.shared = shared;
    }

    /**
     * Estimates Z on every band.
     *
     * @param obs what the takes hold
     * @param takes what each take drives
     */
    public CurveEstimate solve(BinObservations obs, LoadedTakes takes) {
        return solve(obs, takes, true);
    }

    /** The same with all errors as entered: nothing is fitted to all bands, nothing judged or widened by such a fit. */
    public CurveEstimate solveAsEntered(BinObservations obs, LoadedTakes takes) {
        return solve(obs, takes, false);
    }

    private CurveEstimate solve(BinObservations obs, LoadedTakes takes, boolean judged) {
        List<Nuisance> nuisances = priors.nuisances(takes);
        SharedFit seen = judged && SharedFit.isMade(SharedErrors.FITTED, takes, nuisances)
                ? SharedFit.of(obs, takes, nuisances)
                : SharedFit.asBelieved(nuisances.size());
        // A fit that is handed a contradiction runs away with it: then what all bands share is carried as it was
        // entered.
        boolean fitting = seen.ended() && !consistency(List.of(), seen, false).isContradicted();
        SharedFit common = fitting && shared == SharedErrors.FITTED ? seen : SharedFit.asBelieved(nuisances.size());
        NuisanceOffsets departures = common.departures(nuisances, takes.size());
        List<Nuisance> carried = Nuisance.Level.of(obs);
        List<Nuisance> all = Stream.concat(nuisances.stream(), carried.stream()).toList();
        RealMatrix covariance = fitting ? common.covariance() : widened(seen, nuisances.size());
        PosteriorCauses causes = new PosteriorCauses(all, takes, with(covariance, carried.size()));
        BinObservations corrected = departures.corrected(obs);
        @Nullable
        BandFit[] fits = IntStream.range(0, bands.size())
                .parallel()
                .mapToObj(b -> fit(
                        new BandSolver(corrected, new DividerPoint(takes, departures), takes, all),
                        corrected,
                        causes,
                        b))
                .toArray(BandFit[]::new);
        double[] scale = new double[fits.length];
        double[] freedom = new double[fits.length];
        pool(fits, obs.isNoiseOnAverage(), scale, freedom);
        BandUncertainty statement = new BandUncertainty(causes, priors.gainFreedom());
        List<BandValue> values = IntStream.range(0, fits.length)
                .parallel()
                .mapToObj(b -> {
                    BandFit fit = fits[b];
                    return fit == null
                            ? BandValue.rejected(bands.midband(b), Double.NaN)
                            : statement.of(fit, scale[b], freedom[b]);
                })
                .toList();
        return new CurveEstimate(
                bands,
                values,
                scale,
                covariance(fits, values, causes, scale),
                takes.size() > 2 ? consistency(Arrays.asList(fits), seen, !fitting) : null);
    }

    /** The covariance with nuisances added that were not fitted. */
    private static @Nullable RealMatrix with(@Nullable RealMatrix covariance, int carried) {
        if (covariance == null || carried == 0) {
            return covariance;
        }
        int fitted = covariance.getRowDimension();
        RealMatrix out = MatrixUtils.createRealIdentityMatrix(fitted + carried);
        out.setSubMatrix(covariance.getData(), 0, 0);
        return out;
    }

    /**
     * Where the takes follow their model but are farther from what was entered than its uncertainty explains, that uncertainty is
     * too small by the root of χ² over its degrees of freedom (R. T. Birge, Phys. Rev. 40 (1932) 207, from memory); null where
     * nothing is to be widened. What contradicts the model itself shows in the noise of the bands.
     */
    private static @Nullable RealMatrix widened(SharedFit seen, int nuisances) {
        Consistency evidence = consistency(List.of(), seen, false);
        ChiSquare entered = evidence.entered();
        return entered == null
                        || !evidence.isEnteredRefuted()
                        || !evidence.contradicting().isEmpty()
                ? null
                : MatrixUtils.createRealIdentityMatrix(nuisances).scalarMultiply(Math.max(1, entered.ratio()));
    }

    private static Consistency consistency(List<@Nullable BandFit> fits, SharedFit common, boolean setAside) {
        List<@Nullable ChiSquare> own = new ArrayList<>();
        for (BandFit fit : fits) {
            own.add(
                    fit == null || !(fit.degreesOfFreedom() > 0)
                            ? null
                            : new ChiSquare(2 * fit.residual(), 2 * fit.degreesOfFreedom()));
        }
        return new Consistency(common.leftOver(), common.departed(), own, common.octaves(), setAside);
    }

    /** Sensitivities of the measured bands as causes that they share; causes without any effect are left out. */
    private static CurveCovariance covariance(
            @Nullable BandFit[] fits, List<BandValue> values, PosteriorCauses remaining, double[] scale) {
        List<@Nullable PlaneCovariance> noise = new ArrayList<>();
        for (int b = 0; b < fits.length; b++) {
            BandFit fit = fits[b];
            noise.add(
                    fit == null || values.get(b).covariance() == null
                            ? null
                            : PlaneCovariance.circular(Math.sqrt(fit.noiseVariance() * scale[b])));
        }
        List<SharedCause> causes = new ArrayList<>();
        for (int n = 0; n < remaining.size(); n++) {
            double[] dR = new double[fits.length];
            double[] dX = new double[fits.length];
            boolean moves = false;
            for (int b = 0; b < fits.length; b++) {
                BandFit fit = fits[b];
                boolean known = fit != null && noise.get(b) != null;
                dR[b] = known ? fit.sensitivityRe()[n] : Double.NaN;
                dX[b] = known ? fit.sensitivityIm()[n] : Double.NaN;
                moves |= known && (dR[b] != 0 || dX[b] != 0);
            }
            if (moves) {
                causes.add(SharedCause.ofOhms(
                        remaining.get(n).name(), remaining.get(n).origin(), dR, dX));
            }
        }
        return CurveCovariance.of(causes, noise);
    }

    private @Nullable BandFit fit(BandSolver solver, BinObservations obs, PosteriorCauses causes, int b) {
        double centre = bands.midband(b);
        double half = Math.min(Math.log(bands.upperEdge(b) / centre), WIDEST_FIT);
        double reach = half;
        int from = obs.firstAtOrAbove(centre * Math.exp(-reach));
        int to = obs.firstAtOrAbove(centre * Math.exp(reach));
        while (to - from < ENOUGH_BINS && reach < FARTHEST * half) {
            reach = Math.min(FARTHEST * half, reach * 1.1);
            from = obs.firstAtOrAbove(centre * Math.exp(-reach));
            to = obs.firstAtOrAbove(centre * Math.exp(reach));
        }
        if (to - from < 2 || obs.hz(from) > centre || obs.hz(to - 1) < centre) {
            return null;
        }
        BandFit fit = solver.fit(from, to, centre, to - from >= ENOUGH_BINS / 2 ? 1 : 0);
        return fit == null ? null : bent(solver, obs, fit.withCauses(causes), causes, new Stretch(from, to, reach));
    }

    /** Bins {@code [from, to)} within {@code reach} in ln f of a band's middle. */
    private record Stretch(int from, int to, double reach) {}

    /**
     * A straight Z over a band is off in the middle of it by a third of what Z bends away to its ends. Straight fits to both
     * sides tell that: {@code |Z_+ − 2·Z + Z_−|∕24} at two reaches. Where it counts beside the uncertainty, Z gets the terms it
     * needs; where the band has too few bins for them, it is added to the uncertainty.
     *
     * <p>A second order costs 1.5 times the noise, a fourth 1.9 times, so none is spent on a bend that does not count. The tell-tale
     * is noisy itself, a tenth as much as Z where both sides have as many bins, and reads a resonance low that is narrower than the
     * band.
     */
    private static BandFit bent(
            BandSolver solver, BinObservations obs, BandFit fit, PosteriorCauses causes, Stretch stretch) {
        Bend seen = bend(solver, obs, fit, stretch);
        double bend = seen.ohm();
        double scale = fit.degreesOfFreedom() > 0 ? fit.residual() / fit.degreesOfFreedom() : 1;
        double all = fit.noiseVariance() * scale;
        for (int n = 0; n < fit.sensitivityRe().length; n++) {
            double re = fit.sensitivityRe()[n];
            double im = fit.sensitivityIm()[n];
            all += (re * re + im * im) / 2;
        }
        double sd = Math.sqrt(all);
        if (!(bend > Math.max(BEND_COUNTS * sd, BEND_SEEN * Math.sqrt(seen.noiseVariance() * scale)))) {
            return fit;
        }
        int bins = stretch.to - stretch.from;
        int wanted = bend > BEND_IS_SHARP * sd ? 4 : 2;
        int order = bins >= BINS_FOR_FOURTH ? wanted : bins >= BINS_FOR_SECOND ? 2 : 1;
        BandFit curved = order == 1 ? fit : solver.fit(stretch.from, stretch.to, fit.frequencyHz(), order);
        if (curved == null) {
            return fit.withDoubt(bend);
        }
        curved = order == 1 ? curved : curved.withCauses(causes);
        return order == wanted ? curved : curved.withDoubt(order == 1 ? bend : LEFT_OF_BEND * bend);
    }

    /**
     * How far Z bends away from a straight line.
     *
     * @param ohm what a straight Z misses in the middle, ohms
     * @param noiseVariance variance of either part of it from noise alone, Ω², for the stated noise of the observations
     */
    private record Bend(double ohm, double noiseVariance) {}

    private static Bend bend(BandSolver solver, BinObservations obs, BandFit fit, Stretch stretch) {
        double re = -2 * fit.resistanceOhm();
        double im = -2 * fit.reactanceOhm();
        double variance = 4 * fit.noiseVariance();
        for (int side = -1; side <= 1; side += 2) {
            double hz = fit.frequencyHz() * Math.exp(2 * side * stretch.reach);
            int from = obs.firstAtOrAbove(hz * Math.exp(-stretch.reach));
            int to = obs.firstAtOrAbove(hz * Math.exp(stretch.reach));
            BandSolver.Line beside = to - from < 2 ? null : solver.line(from, to, hz);
            if (beside == null) {
                return new Bend(0, 0);
            }
            re += beside.resistanceOhm();
            im += beside.reactanceOhm();
            variance += beside.noiseVariance();
        }
        return new Bend(Math.hypot(re, im) / 24, variance / (24 * 24));
    }

    /**
     * Observed over stated noise, from the band and as many neighbours as give enough degrees of freedom. Where bands borrow bins
     * a neighbour counts by the share of its bins that were not counted yet: it shows the rest once more, not anew.
     */
    private static void pool(@Nullable BandFit[] fits, boolean byScores, double[] scale, double[] freedom) {
        for (int b = 0; b < fits.length; b++) {
            double residual = 0;
            double total = 0;
            int from = Integer.MAX_VALUE / 2;
            int to = Integer.MIN_VALUE / 2;
            for (int reach = 0; reach < fits.length && total < POOLED_FREEDOM; reach++) {
                for (int side : reach == 0 ? new int[] {b} : new int[] {b - reach, b + reach}) {
                    BandFit fit = side >= 0 && side < fits.length ? fits[side] : null;
                    double own = fit == null ? 0 : byScores ? fit.scoreFreedom() : fit.degreesOfFreedom();
                    if (fit != null && own > 0) {
                        int counted = Math.max(0, Math.min(to, fit.to()) - Math.max(from, fit.from()));
                        double fresh = 1 - (double) counted / (fit.to() - fit.from());
                        residual += fresh * (byScores ? fit.scoreScale() * own : fit.residual());
                        total += fresh * own;
                        from = Math.min(from, fit.from());
                        to = Math.max(to, fit.to());
                    }
                }
            }
            scale[b] = total > 0 ? Math.max(0, residual / total) : 1;
            freedom[b] = 2 * Math.max(LEAST_POOL, total);
        }
    }
}
