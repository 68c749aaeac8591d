package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;
import ohmprint.estimation.CoherentSolver;
import ohmprint.estimation.CurveEstimate;
import ohmprint.estimation.Priors;
import ohmprint.estimation.TakeAgreement;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.Consistency;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.session.Take;
import ohmprint.text.Numbers;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.stat.descriptive.rank.Median;

/**
 * Takes that contradict each other or what was entered: whether one of them is to blame, and how much depends on which of
 * them is believed.
 *
 * <p>For the latter each take is left out in turn. Of band b the curve without take j differs from the whole one by
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
    /** Share of the visible misfit from which a single take is named: leaving it out shows what is wrong. */
    private static final double SUSPECT_SHARE = 0.2;

    private static final double DECISIVE = 0.5;
    /** Level change that is worth a word, dB. */
    private static final double LEVEL_DB = 0.04;

    /** What is said of takes that do not lie on one line: of the one to blame, or of all. */
    static Optional<Finding> disagreement(TakeAgreement seen, TakeSet takes, DeviceUnderTest subject) {
        if (!disagrees(seen)) {
            return Optional.empty();
        }
        Take take = blamed(seen, takes).orElse(null);
        if (take == null) {
            return Optional.of(Wording.LOAD_OF_SOME_TAKE.of(
                    null,
                    seen.misfit() < 1 ? Numbers.digits(100 * seen.misfit(), 2) + " %" : "as large as all",
                    subject.resistor(),
                    subject.resistor()));
        }
        return Optional.of(
                seen.levelExplainsBetter()
                        ? Wording.LEVEL_OF_ONE_TAKE.of(take.file(), seen.fittingLevelDb())
                        : Wording.LOAD_OF_ONE_TAKE.of(
                                take.file(),
                                subject.label(take.load()),
                                subject == DeviceUnderTest.INPUT && Double.isInfinite(seen.fittingOhm())
                                        ? "no resistor"
                                        : DeviceUnderTest.ohms(subject.ohm(seen.fittingOhm()))));
    }

    /** The take without which all others agree, where they do not agree with it: its load or level is not as it was said to be. */
    static Optional<Take> blamed(TakeAgreement seen, TakeSet takes) {
        return disagrees(seen) && seen.suspect() >= 0
                ? Optional.of(takes.takes().get(seen.suspect()))
                : Optional.empty();
    }

    private static boolean disagrees(TakeAgreement seen) {
        if (seen.suspect() < 0) {
            return seen.misfit() > seen.visible();
        }
        boolean matters = !seen.levelExplainsBetter() || Math.abs(seen.fittingLevelDb()) > LEVEL_DB;
        return seen.misfit() > SUSPECT_SHARE * seen.visible()
                && seen.misfitWithout() < DECISIVE * seen.misfit()
                && matters;
    }

    /**
     * Examines takes whose consistency speaks against them.
     *
     * @param whole what all takes give
     * @param takes the takes
     * @param priors what is believed of gains and delays
     * @param subject what is measured
     */
    static Contradiction of(CurveEstimate whole, TakeSet takes, Priors priors, DeviceUnderTest subject) {
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

    private static Finding finding(
            CurveEstimate whole, TakeSet takes, double most, boolean gross, DeviceUnderTest subject) {
        Consistency consistency = Objects.requireNonNull(whole.consistency());
        String all = takes.takes().stream()
                .map(take -> take.file() + " as " + subject.label(take.load()))
                .collect(Collectors.joining(", "));
        String much = Double.isNaN(most)
                ? ""
                : String.format(
                        Locale.ROOT,
                        "; leaving one of them out changes |Z| by up to %s %%",
                        Numbers.digits(100 * most, 2));
        String why = consistency.isEnteredRefuted()
                ? "the entered values are inconsistent with the takes" + ConsistencyWords.where(consistency)
                : "the takes contradict each other" + ConsistencyWords.where(consistency);
        return (gross ? Wording.NO_CURVE : Wording.ERRORS_AS_ENTERED).of(null, why, all, much, subject.resistor());
    }
}
