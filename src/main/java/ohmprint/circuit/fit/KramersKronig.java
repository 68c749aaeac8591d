package ohmprint.circuit.fit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ChiSquare;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SharedCause;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.exception.MathIllegalStateException;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresBuilder;
import org.apache.commons.math3.fitting.leastsquares.LevenbergMarquardtOptimizer;
import org.apache.commons.math3.fitting.leastsquares.MultivariateJacobianFunction;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.DecompositionSolver;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.apache.commons.math3.linear.SingularMatrixException;
import org.apache.commons.math3.util.Pair;
import org.jspecify.annotations.Nullable;

/**
 * The linear Kramers–Kronig test: whether a curve can be the impedance of anything that is linear, causal and stable.
 *
 * <p>The real part of such an impedance determines its imaginary part but for a constant. A chain of elements that all obey this is
 * fitted to both parts; what it leaves over beyond the stated uncertainty is not an impedance:
 *
 * <pre>{@code
 * Z = R + s·L + 1/(s·C) + Σ R_m/(1 + s·τ_m) + Σ (a_k·s + b_k)/(s² + s·ω_k/Q_k + ω_k²),   s = jω
 * }</pre>
 *
 * <p>The time constants τ are spaced evenly in their logarithm, from {@value #BEYOND} times below 1/ω of the last band to as much above
 * that of the first; coefficients may have either sign, all τ and Q are positive. Eight to twelve RC elements hold a skin effect √ω over three decades to 1e-5
 * of |Z|. They do not hold a resonance, and no fixed grid of resonant poles does: a peak of Q = 12 is one and a half
 * twelfth octaves wide, and poles of a grid that fits it to better than 1 % are as many numbers as the curve has. So resonances are added one by one, each where it takes most off χ²,
 * at any frequency of the curve with Q from {@value #LEAST_Q} to {@value #GREATEST_Q}, and ω_k and Q_k are improved after each; coefficients follow linearly.
 *
 * <p>The number of elements is that of the least {@code χ² + k·ln n} with k free numbers, four for a resonance, and n residuals
 * (Schwarz's criterion). The criterion μ of the published method, the share of negative coefficients, is for spectra of unknown
 * uncertainty; here χ² itself says when enough is enough, and resonances and inductors need negative coefficients. ln n is about 5.5: searching noise
 * for a resonance at any frequency rarely takes 22 off χ².
 *
 * <p>Each band weighs by its own noise, at least {@value Points#FLOOR} of |Z|. What all bands share (loads, drift, input, delays) is one more column for
 * each cause, with one more residual that is its size in standard deviations: the same as the whole covariance.
 *
 * <p><b>What it finds</b>: steps, ripples of |Z| without their phase, stretches that belong to another curve. With u the standard uncertainty of a band,
 * a step of 5·u and a ripple of 2·u (an octave or a third long) are found in 19 of 20 draws of 120 bands. <b>What it cannot find</b>: a wrong load, gain, input or polarity. All of these turn Z into
 * {@code (a·Z + b)/(c·Z + d)} with circuits for a to d, which is the impedance of another circuit as long as it stays stable. Nor a small
 * fault of the clock, exp(jωτ): late values are causal themselves, early ones look like an inductance τ·R until ωτ is of order 1 (50 µs at 20 kHz). Nor is a passed curve
 * passive. More than {@value #MOST_RESONANCES} resonances, or sharper ones, are reported as no impedance; errors that look like a resonance
 * pass. Noise that neighbouring bands share counts as independent.
 *
 * <p>Source: B. A. Boukamp, J. Electrochem. Soc. 142 (1995) 1885; M. Schönleber, D. Klotz and E. Ivers-Tiffée, Electrochim. Acta 131
 * (2014) 20; projection of the linear numbers: L. Kaufman, BIT 15 (1975) 49; criterion: G. Schwarz, Ann. Statist. 6 (1978) 461 (all from memory).
 */
public final class KramersKronig {
    /** Fewest bands with a complex value. */
    public static final int LEAST_BANDS = 16;
    /** Probability below which chance does not explain what is left over. */
    public static final double NO_CHANCE = 1e-3;

    /** RC elements outside the curve stand for what it sees of parts that work there. */
    private static final double BEYOND = 3;

    private static final int[] RC_ELEMENTS = {3, 4, 5, 6, 8, 10, 12, 16};
    private static final int MOST_RESONANCES = 8;
    /** Resonances that in a row may fail to improve the criterion before the search ends: two may help where one does not. */
    private static final int PATIENCE = 2;

    private static final double LEAST_Q = 0.6;
    private static final double GREATEST_Q = 20;
    /** Quality factors from which a resonance starts. */
    private static final double[] START_Q = {1.2, 4, 12};
    /** Starts of a resonance per octave. */
    private static final double STARTS = 12;

    private static final double DONE = 1e-6;
    private static final int MOST_STEPS = 60;

    private final double[] omega;
    private final PlaneCovariance[] noise;
    /** Changes of R and X by each cause, one band after the other. */
    private final List<double[]> causes;

    private final int rows;
    private final double[] target;

    private KramersKronig(double[] hz, Complex[] z, PlaneCovariance[] noise, List<double[]> causes) {
        this.omega = new double[hz.length];
        this.noise = noise;
        this.causes = causes;
        for (int b = 0; b < hz.length; b++) {
            omega[b] = 2 * Math.PI * hz[b];
        }
        this.rows = 2 * hz.length + causes.size();
        this.target = weighed(z);
    }

    /**
     * What the test says of a curve.
     *
     * @param left what the chain leaves over, with its degrees of freedom
     * @param bands what it leaves over in each band, ascending
     * @param worst the stretch that stands out most, or null where chance explains each
     * @param rcElements number of RC elements of the chain
     * @param resonances number of its resonances
     */
    public record Result(
            ChiSquare left, List<Residual> bands, @Nullable Stretch worst, int rcElements, int resonances) {
        /** Copies the list. */
        public Result {
            bands = List.copyOf(bands);
        }

        /** Whether chance explains what is left over, {@code p ≥ 0.001}, in all and in each stretch. */
        public boolean isImpedance() {
            return worst == null && left.pValue() >= NO_CHANCE;
        }
    }

    /**
     * Measured less fitted in one band.
     *
     * @param frequencyHz midband in hertz
     * @param resistance of R, in standard uncertainties of R
     * @param reactance of X, likewise
     */
    public record Residual(double frequencyHz, double resistance, double reactance) {}

    /**
     * Neighbouring bands that together leave over more than chance explains.
     *
     * @param fromHz first midband in hertz
     * @param toHz last midband in hertz
     * @param left what they leave over, against what they would of noise
     */
    public record Stretch(double fromHz, double toHz, ChiSquare left) {}

    /**
     * Tests a curve by its complex values, the noise of each band and the causes that all bands share, both made wider where they rest on few
     * observations.
     *
     * @return null where fewer than {@value #LEAST_BANDS} bands hold a complex value with an uncertainty
     */
    public static @Nullable Result test(ImpedanceCurve curve) {
        List<Integer> places = new ArrayList<>();
        List<PlaneCovariance> noise = new ArrayList<>();
        CurveCovariance covariance = curve.covariance();
        for (int i = 0; i < curve.values().size(); i++) {
            PlaneCovariance own = own(curve.values().get(i), covariance == null ? null : covariance.noise(i));
            if (own != null) {
                places.add(i);
                noise.add(own);
            }
        }
        int n = places.size();
        if (n < LEAST_BANDS) {
            return null;
        }
        double[] hz = new double[n];
        Complex[] z = new Complex[n];
        for (int b = 0; b < n; b++) {
            BandValue v = curve.values().get(places.get(b));
            hz[b] = v.frequencyHz();
            z[b] = new Complex(v.resistanceOhm(), v.reactanceOhm());
        }
        List<double[]> shifts = new ArrayList<>();
        for (SharedCause cause : covariance == null ? List.<SharedCause>of() : covariance.causes()) {
            double[] shift = new double[2 * n];
            for (int b = 0; b < n; b++) {
                int i = places.get(b);
                double[] wide = curve.values().get(i).widening().of(cause.resistanceOhm(i), cause.reactanceOhm(i));
                System.arraycopy(wide, 0, shift, 2 * b, 2);
            }
            shifts.add(shift);
        }
        return new KramersKronig(hz, z, floored(z, noise), shifts).result();
    }

    /**
     * Tests complex values whose errors are independent from band to band and as large in R as in X.
     *
     * @param hz frequencies in hertz, ascending, positive
     * @param ohms Z = R + jX in ohms
     * @param uOhm standard uncertainty of R and of X in ohms, positive
     * @throws IllegalArgumentException if the lengths differ, or are below {@value #LEAST_BANDS}
     */
    public static Result test(double[] hz, Complex[] ohms, double[] uOhm) {
        return of(hz, ohms, uOhm).result();
    }

    private static KramersKronig of(double[] hz, Complex[] ohms, double[] uOhm) {
        if (ohms.length != hz.length || uOhm.length != hz.length || hz.length < LEAST_BANDS) {
            throw new IllegalArgumentException("a test needs as many values and uncertainties as frequencies, and "
                    + LEAST_BANDS + " or more, not " + hz.length + ", " + ohms.length + " and " + uOhm.length);
        }
        List<PlaneCovariance> noise = new ArrayList<>();
        for (double u : uOhm) {
            noise.add(PlaneCovariance.circular(u));
        }
        return new KramersKronig(hz.clone(), ohms.clone(), floored(ohms, noise), List.of());
    }

    /**
     * The published chain alone: {@code R + s·L + 1/(s·C)} and RC elements of the given time constants.
     *
     * @return measured less fitted, ohms
     */
    static Complex[] leftByChain(double[] hz, Complex[] ohms, double[] uOhm, double[] seconds) {
        KramersKronig test = of(hz, ohms, uOhm);
        RealVector left = test.fit(seconds, new double[0]).left();
        Complex[] out = new Complex[hz.length];
        for (int b = 0; b < hz.length; b++) {
            out[b] = new Complex(left.getEntry(2 * b), left.getEntry(2 * b + 1)).multiply(uOhm[b]);
        }
        return out;
    }

    private static @Nullable PlaneCovariance own(BandValue v, @Nullable PlaneCovariance noise) {
        if (!v.isMeasured() || !Double.isFinite(v.resistanceOhm() + v.reactanceOhm()) || !(v.magnitudeOhm() > 0)) {
            return null;
        }
        if (noise != null) {
            return v.widening().of(noise);
        }
        BandBudget budget = v.budget();
        double u = budget == null ? v.magnitudeU95Ohm() / CoverageFactor.NORMAL : budget.noise();
        return Double.isFinite(u) ? PlaneCovariance.circular(u) : null;
    }

    private static PlaneCovariance[] floored(Complex[] z, List<PlaneCovariance> noise) {
        PlaneCovariance[] out = new PlaneCovariance[z.length];
        for (int b = 0; b < z.length; b++) {
            PlaneCovariance own = noise.get(b);
            double least = Math.pow(Points.FLOOR * z[b].abs(), 2);
            double varR = Math.max(own.varR(), least);
            double varX = Math.max(own.varX(), least);
            double most = 0.99 * Math.sqrt(varR * varX);
            out[b] = new PlaneCovariance(varR, varX, Math.max(-most, Math.min(most, own.covRX())));
        }
        return out;
    }

    /** R and X of each band as two independent numbers of variance 1, then a zero for each cause. */
    private double[] weighed(Complex[] ohms) {
        double[] out = new double[rows];
        for (int b = 0; b < ohms.length; b++) {
            weigh(b, ohms[b].getReal(), ohms[b].getImaginary(), out);
        }
        return out;
    }

    private void weigh(int b, double r, double x, double[] into) {
        PlaneCovariance c = noise[b];
        double slope = c.covRX() / c.varR();
        into[2 * b] = r / Math.sqrt(c.varR());
        into[2 * b + 1] = (x - slope * r) / Math.sqrt(c.varX() - slope * c.covRX());
    }

    /** Both parts of a resonance, or their derivatives by ln ω₀ and by ln Q. */
    private double[][] resonance(double logOmega, double logQ, int derivative) {
        Complex[] first = new Complex[omega.length];
        Complex[] second = new Complex[omega.length];
        double q = Math.exp(logQ);
        for (int b = 0; b < omega.length; b++) {
            double up = omega[b] / Math.exp(logOmega);
            Complex peak = new Complex(1, q * (up - 1 / up)).reciprocal();
            Complex low = new Complex(0, -1 / up);
            Complex by = switch (derivative) {
                case 0 -> peak;
                case 1 -> peak.multiply(peak).multiply(new Complex(0, q * (up + 1 / up)));
                default -> peak.multiply(peak).multiply(new Complex(0, -q * (up - 1 / up)));
            };
            first[b] = by;
            second[b] = low.multiply(derivative == 1 ? by.add(peak) : by);
        }
        return new double[][] {weighed(first), weighed(second)};
    }

    private double[] rc(double seconds) {
        Complex[] column = new Complex[omega.length];
        for (int b = 0; b < omega.length; b++) {
            column[b] = new Complex(1, omega[b] * seconds).reciprocal();
        }
        return weighed(column);
    }

    private List<double[]> columns(double[] seconds, double[] tuned) {
        int n = omega.length;
        Complex[] r = new Complex[n];
        Complex[] l = new Complex[n];
        Complex[] c = new Complex[n];
        for (int b = 0; b < n; b++) {
            r[b] = Complex.ONE;
            l[b] = new Complex(0, omega[b] / omega[n - 1]);
            c[b] = new Complex(0, -omega[0] / omega[b]);
        }
        List<double[]> out = new ArrayList<>(List.of(weighed(r), weighed(l), weighed(c)));
        for (int k = 0; k < causes.size(); k++) {
            double[] column = new double[rows];
            for (int b = 0; b < n; b++) {
                weigh(b, causes.get(k)[2 * b], causes.get(k)[2 * b + 1], column);
            }
            column[2 * n + k] = 1;
            out.add(column);
        }
        for (double tau : seconds) {
            out.add(rc(tau));
        }
        for (int k = 0; k < tuned.length; k += 2) {
            out.addAll(List.of(resonance(tuned[k], tuned[k + 1], 0)));
        }
        return out;
    }

    /**
     * The chain of given poles with the coefficients that fit best.
     *
     * @param seconds time constants
     * @param tuned ln ω₀ and ln Q of each resonance
     * @param elements what each element alone would be, weighed
     * @param solver least squares with them
     * @param coefficients of the two parts of each resonance
     * @param left measured less fitted, weighed
     */
    @SuppressWarnings("ArrayRecordComponent")
    private record Chain(
            double[] seconds,
            double[] tuned,
            RealMatrix elements,
            DecompositionSolver solver,
            double[] coefficients,
            RealVector left) {
        double chiSquare() {
            return left.dotProduct(left);
        }

        /** What of some columns the chain cannot be. */
        RealMatrix beyond(RealMatrix columns) {
            return columns.subtract(elements.multiply(solver.solve(columns)));
        }

        /** Numbers that were free: R, L, C, coefficients and poles. */
        int free() {
            return 3 + seconds.length + 2 * tuned.length;
        }
    }

    private Chain fit(double[] seconds, double[] tuned) {
        List<double[]> columns = columns(seconds, tuned);
        RealMatrix a = new Array2DRowRealMatrix(rows, columns.size());
        for (int c = 0; c < columns.size(); c++) {
            a.setColumn(c, columns.get(c));
        }
        DecompositionSolver solver = new QRDecomposition(a).getSolver();
        RealVector y = new ArrayRealVector(target, false);
        RealVector x = solver.solve(y);
        return new Chain(
                seconds,
                tuned,
                a,
                solver,
                x.getSubVector(columns.size() - tuned.length, tuned.length).toArray(),
                y.subtract(a.operate(x)));
    }

    private double criterion(Chain chain) {
        return chain.chiSquare() + chain.free() * Math.log(2.0 * omega.length);
    }

    private Result result() {
        Chain best = withBestElements(new double[0]);
        Chain last = best;
        RealMatrix starts = null;
        for (int k = 1, idle = 0; k <= MOST_RESONANCES && idle < PATIENCE && hasRoom(last.free() + 4); k++) {
            // Less than noise alone leaves over asks for no more.
            if (last.chiSquare() < 2 * omega.length - last.free()) {
                break;
            }
            starts = starts == null ? starts() : starts;
            try {
                last = withBestElements(improved(last.seconds(), withOneMore(last, starts)));
            } catch (SingularMatrixException e) {
                // Two resonances have met, so that the last one is one too many.
                break;
            }
            boolean better = criterion(last) < criterion(best);
            best = better ? last : best;
            idle = better ? 0 : idle + 1;
        }
        List<Residual> bands = new ArrayList<>();
        for (int b = 0; b < omega.length; b++) {
            bands.add(residual(b, best.left()));
        }
        return new Result(
                new ChiSquare(best.chiSquare(), 2 * omega.length - best.free()),
                bands,
                worst(best),
                best.seconds().length,
                best.tuned().length / 2);
    }

    /** Half of all residuals stay free, or the chain could follow anything. */
    private boolean hasRoom(int free) {
        return free <= omega.length;
    }

    private Chain withBestElements(double[] tuned) {
        Chain best = null;
        for (int m : RC_ELEMENTS) {
            if (best != null && !hasRoom(3 + m + 2 * tuned.length)) {
                break;
            }
            double shortest = 1 / (BEYOND * omega[omega.length - 1]);
            double longest = BEYOND / omega[0];
            double[] seconds = new double[m];
            for (int i = 0; i < m; i++) {
                seconds[i] = shortest * Math.pow(longest / shortest, i / (m - 1.0));
            }
            Chain chain = fit(seconds, tuned);
            if (best == null || criterion(chain) < criterion(best)) {
                best = chain;
            }
        }
        return Objects.requireNonNull(best);
    }

    private double startOmega(int start) {
        int place = start / START_Q.length;
        return omega[0] * Math.pow(2, place / STARTS);
    }

    /** Both parts of every start of a resonance, side by side. */
    private RealMatrix starts() {
        double octaves = Math.log(omega[omega.length - 1] / omega[0]) / Math.log(2);
        int count = START_Q.length * (1 + (int) (octaves * STARTS));
        RealMatrix out = new Array2DRowRealMatrix(rows, 2 * count);
        for (int i = 0; i < count; i++) {
            double[][] parts = resonance(Math.log(startOmega(i)), Math.log(START_Q[i % START_Q.length]), 0);
            out.setColumn(2 * i, parts[0]);
            out.setColumn(2 * i + 1, parts[1]);
        }
        return out;
    }

    /** The resonances of a chain and the start that takes most off its χ²: bᵀ·G⁻¹·b of what of both parts the chain does not hold. */
    private double[] withOneMore(Chain chain, RealMatrix starts) {
        RealMatrix beyond = chain.beyond(starts);
        double[] along = beyond.preMultiply(chain.left()).toArray();
        int best = 0;
        double most = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < along.length / 2; i++) {
            RealVector p = beyond.getColumnVector(2 * i);
            RealVector q = beyond.getColumnVector(2 * i + 1);
            double pp = p.dotProduct(p);
            double qq = q.dotProduct(q);
            double pq = p.dotProduct(q);
            double bp = along[2 * i];
            double bq = along[2 * i + 1];
            double gain = (bp * bp * qq - 2 * bp * bq * pq + bq * bq * pp) / (pp * qq - pq * pq);
            if (gain > most) {
                most = gain;
                best = i;
            }
        }
        double[] out = Arrays.copyOf(chain.tuned(), chain.tuned().length + 2);
        out[out.length - 2] = Math.log(startOmega(best));
        out[out.length - 1] = Math.log(START_Q[best % START_Q.length]);
        return out;
    }

    /** Moves all resonances to where they fit best. */
    private double[] improved(double[] seconds, double[] start) {
        MultivariateJacobianFunction function = point -> {
            double[] tuned = point.toArray();
            Chain chain = fit(seconds, tuned);
            RealMatrix slopes = new Array2DRowRealMatrix(rows, tuned.length);
            for (int i = 0; i < tuned.length; i++) {
                int k = i - i % 2;
                double[][] parts = resonance(tuned[k], tuned[k + 1], 1 + i % 2);
                slopes.setColumnVector(
                        i,
                        new ArrayRealVector(parts[0], false)
                                .mapMultiply(chain.coefficients()[k])
                                .add(new ArrayRealVector(parts[1], false).mapMultiply(chain.coefficients()[k + 1])));
            }
            return new Pair<>(chain.left().mapMultiply(-1), chain.beyond(slopes));
        };
        try {
            return new LevenbergMarquardtOptimizer()
                    .optimize(new LeastSquaresBuilder()
                            .start(start)
                            .target(new double[rows])
                            .model(function)
                            .parameterValidator(this::within)
                            .checker((step, before, now) ->
                                    step >= MOST_STEPS || before.getCost() - now.getCost() < DONE * before.getCost())
                            .lazyEvaluation(false)
                            .maxEvaluations(10 * MOST_STEPS)
                            .maxIterations(2 * MOST_STEPS)
                            .build())
                    .getPoint()
                    .toArray();
        } catch (MathIllegalStateException | SingularMatrixException e) {
            // Where the search does not settle, or two resonances meet, the start itself is a chain like any other.
            return start;
        }
    }

    private RealVector within(RealVector point) {
        double[] p = point.toArray();
        for (int i = 0; i < p.length; i += 2) {
            p[i] = Math.max(Math.log(omega[0] / 2), Math.min(Math.log(2 * omega[omega.length - 1]), p[i]));
            p[i + 1] = Math.max(Math.log(LEAST_Q), Math.min(Math.log(GREATEST_Q), p[i + 1]));
        }
        return new ArrayRealVector(p, false);
    }

    private Residual residual(int b, RealVector left) {
        PlaneCovariance c = noise[b];
        double r = left.getEntry(2 * b);
        double correlation = c.covRX() / Math.sqrt(c.varR() * c.varX());
        double x = correlation * r + Math.sqrt(1 - correlation * correlation) * left.getEntry(2 * b + 1);
        return new Residual(omega[b] / (2 * Math.PI), r, x);
    }

    /** The run of bands whose sum of squares stands out most, {@code (S − E)/√(2E)}, if even one of so many runs hardly could by chance. */
    private @Nullable Stretch worst(Chain chain) {
        int n = omega.length;
        double perBand = 2 - (double) chain.free() / n;
        double most = 0;
        Stretch worst = null;
        for (int from = 0; from < n; from++) {
            double sum = 0;
            for (int to = from; to < n; to++) {
                double r = chain.left().getEntry(2 * to);
                double x = chain.left().getEntry(2 * to + 1);
                sum += r * r + x * x;
                double expected = perBand * (to - from + 1);
                double score = (sum - expected) / Math.sqrt(2 * expected);
                if (score > most) {
                    most = score;
                    worst = new Stretch(
                            omega[from] / (2 * Math.PI), omega[to] / (2 * Math.PI), new ChiSquare(sum, expected));
                }
            }
        }
        return worst != null && worst.left().pValue() * n * (n + 1) / 2 < NO_CHANCE ? worst : null;
    }
}
