package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.stream.Collectors;
import ohmprint.curve.BandStatus;
import ohmprint.curve.BandValue;
import ohmprint.curve.Consistency;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode.Wording;
import ohmprint.curve.Rounded;
import ohmprint.estimate.CoherentSolver;
import ohmprint.estimate.CurveEstimate;
import ohmprint.estimate.Priors;
import ohmprint.session.Take;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.stat.descriptive.rank.Median;

/**
 * Takes that contradict each other or what was entered: how much depends on which of them is believed.
 *
 * <p>Each take is left out in turn. Of band b the curve without take j differs from the whole one by
 * {@code δ_jb = (Z_jb − Z_b)/Z_b}, a complex number; what is the same in all bands, {@code m_j = med Re δ_jb + j·med Im δ_jb},
 * is a load or a level, while a room that changed leaves something else in each band. The dependence is the largest
 * {@code |m_j − m_i|} (with m = 0 for the whole). Where it is above {@value #GROSS} and beyond what the shorter sets of takes
 * can say, no curve can rest on the takes. With two takes left nothing is known of their own errors but what was entered.
 *
 * @param finding what is said about it
 * @param isGross whether no curve can rest on the takes
 */
record Contradiction(Finding finding, boolean isGross) {
    /** Relative difference between curves of one session that nobody can make use of. */
    private static final double GROSS = 0.3;
    /** The same in 95 % uncertainties of a curve without one take. */
    private static final double BEYOND = 2;

    /**
     * Examines takes whose consistency speaks against them.
     *
     * @param whole what all takes give
     * @param takes the takes
     * @param priors what is believed of gains and delays
     * @param subject what is measured
     */
    static Contradiction of(CurveEstimate whole, TakeSet takes, Priors priors, Subject subject) {
        // The curve of all takes without what the contradiction adds to its uncertainty, which may reject every band.
        CoherentSolver solver = new CoherentSolver(whole.bands(), priors);
        CurveEstimate entered = solver.solveAsEntered(takes.bins(), takes.loads());
        List<Complex> moves = new ArrayList<>();
        moves.add(Complex.ZERO);
        double most = Double.NaN;
        boolean gross = false;
        for (Take left : takes.takes()) {
            TakeSet rest = takes.without(left);
            if (TakeSet.differentLoads(rest.takes()) < 2) {
                continue;
            }
            CurveEstimate part = solver.solveAsEntered(rest.bins(), rest.loads());
            double[] re = new double[entered.values().size()];
            double[] im = new double[re.length];
            double[] stated = new double[re.length];
            int n = 0;
            for (int b = 0; b < re.length; b++) {
                BandValue a = entered.values().get(b);
                BandValue c = part.values().get(b);
                if (isComplex(a) && isComplex(c)) {
                    Complex z = new Complex(a.resistanceOhm(), a.reactanceOhm());
                    Complex d = new Complex(c.resistanceOhm(), c.reactanceOhm())
                            .subtract(z)
                            .divide(z);
                    re[n] = d.getReal();
                    im[n] = d.getImaginary();
                    stated[n++] = c.magnitudeU95Ohm() / z.abs();
                }
            }
            if (n == 0) {
                continue;
            }
            Complex move = new Complex(median(re, n), median(im, n));
            for (Complex other : moves) {
                double size = move.subtract(other).abs();
                most = Double.isNaN(most) ? size : Math.max(most, size);
                gross |= size > GROSS && size > BEYOND * median(stated, n);
            }
            moves.add(move);
        }
        return new Contradiction(finding(whole, takes, most, gross, subject), gross);
    }

    private static boolean isComplex(BandValue v) {
        return v.status() == BandStatus.MEASURED && !Double.isNaN(v.reactanceOhm());
    }

    private static double median(double[] values, int n) {
        return new Median().evaluate(Arrays.copyOf(values, n));
    }

    private static Finding finding(CurveEstimate whole, TakeSet takes, double most, boolean gross, Subject subject) {
        Consistency consistency = Objects.requireNonNull(whole.consistency());
        String all = takes.takes().stream()
                .map(take -> take.file() + " as " + subject.label(take.load()))
                .collect(Collectors.joining(", "));
        String much = Double.isNaN(most)
                ? ""
                : String.format(
                        Locale.ROOT,
                        "; leaving one of them out changes |Z| by up to %s %%",
                        Rounded.digits(100 * most, 2));
        String why = consistency.isEnteredRefuted()
                ? "the entered values are inconsistent with the takes" + ConsistencyWords.where(consistency)
                : "the takes contradict each other" + ConsistencyWords.where(consistency);
        return (gross ? Wording.NO_CURVE : Wording.ERRORS_AS_ENTERED).of(null, why, all, much, subject.resistor());
    }
}
