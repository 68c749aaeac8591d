package ohmprint.conformity;

import java.util.ArrayList;
import java.util.List;
import ohmprint.conformity.CommonErrors.ErrorDecomposition;
import ohmprint.conformity.Specification.ResonanceWindow;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.text.Numbers;
import ohmprint.uncertainty.CoverageFactor;

/**
 * The frequency of the greatest |Z| against its window.
 *
 * @param window the window
 * @param peakHz best estimate in hertz; NaN when nothing can be said
 * @param earliestHz lower end in hertz of where it may lie; NaN when nothing can be said
 * @param latestHz upper end in hertz; NaN when nothing can be said
 * @param peakOhm the greatest measured |Z| in ohms; NaN when nothing can be said
 * @param conformity the answer
 */
public record PeakCheck(
        ResonanceWindow window,
        double peakHz,
        double earliestHz,
        double latestHz,
        double peakOhm,
        Conformity conformity) {
    /**
     * The verdict on a resonance.
     *
     * @param rate rate of false answers to one side
     */
    static RequirementVerdict judge(ImpedanceCurve curve, ResonanceWindow window, double rate) {
        Search search = new Search(curve, window);
        PeakCheck peak = search.find(rate);
        return new RequirementVerdict(
                RequirementVerdict.Kind.RESONANCE,
                "greatest |Z| between " + InWords.range(window.fromHz(), window.toHz()) + ", looked for from "
                        + InWords.range(window.searchFromHz(), window.searchToHz()),
                peak.conformity(),
                List.of(),
                peak,
                search.reasons);
    }

    private static PeakCheck unknown(ResonanceWindow window) {
        double none = Double.NaN;
        return new PeakCheck(window, none, none, none, none, Conformity.UNDECIDED);
    }

    /**
     * Where the greatest |Z| may lie.
     *
     * <p>A band stays a candidate while its |Z| may, within the uncertainty of the difference, be as great as that of the band M
     * with the greatest value: {@code y_j + g·u_d ≥ y_M}. What both have in common drops out of the difference: {@code u_d² =
     * u_j² + u_M² − 2·cov}. Where the covariance is not known the uncertainties add up as they would with opposite errors. g is for
     * the rate of one comparison of N − 1 (multiple comparisons with the best; Hsu 1981, Ann. Statist. 9, 1026). The peak of a smooth curve whose greatest midband
     * value is that of band j lies between the two midbands beside it.
     */
    private static final class Search {
        private static final int FEWEST_BANDS = 3;
        private static final Limits NO_LIMITS = Limits.exact(0, Double.POSITIVE_INFINITY);

        private final ImpedanceCurve curve;
        private final CommonErrors common;
        private final ResonanceWindow window;
        private final List<Reading> bands = new ArrayList<>();
        private final List<String> reasons = new ArrayList<>();

        private Search(ImpedanceCurve curve, ResonanceWindow window) {
            this.curve = curve;
            this.common = new CommonErrors(curve);
            this.window = window;
        }

        private PeakCheck find(double rate) {
            for (int i = 0; i < curve.bands().size(); i++) {
                double hz = curve.bands().midband(i);
                if (hz >= window.searchFromHz() && hz <= window.searchToHz()) {
                    bands.add(Reading.band(curve, i));
                }
            }
            if (bands.size() < FEWEST_BANDS) {
                reasons.add(
                        "fewer than three bands lie from " + InWords.range(window.searchFromHz(), window.searchToHz())
                                + "; measure with more bands per octave or search further");
                return PeakCheck.unknown(window);
            }
            for (Reading band : bands) {
                if (!band.hasValue()) {
                    reasons.add("the band at " + Numbers.briefFrequency(band.hz())
                            + " has no value, and the greatest |Z| may lie there; measure it or search elsewhere");
                    return PeakCheck.unknown(window);
                }
            }
            return decide(rate);
        }

        private PeakCheck decide(double rate) {
            int greatest = 0;
            for (int j = 1; j < bands.size(); j++) {
                greatest = bands.get(j).ohm() > bands.get(greatest).ohm() ? j : greatest;
            }
            double tail = rate / (bands.size() - 1);
            int first = greatest;
            int last = greatest;
            for (int j = 0; j < bands.size(); j++) {
                if (mayBeGreatest(j, greatest, tail)) {
                    first = Math.min(first, j);
                    last = Math.max(last, j);
                }
            }
            double earliest =
                    first == 0 ? window.searchFromHz() : bands.get(first - 1).hz();
            double latest = last == bands.size() - 1
                    ? window.searchToHz()
                    : bands.get(last + 1).hz();
            Conformity answer = earliest >= window.fromHz() && latest <= window.toHz()
                    ? Conformity.WITHIN
                    : latest < window.fromHz() || earliest > window.toHz() ? Conformity.OUTSIDE : Conformity.UNDECIDED;
            return new PeakCheck(
                    window,
                    vertex(greatest),
                    earliest,
                    latest,
                    bands.get(greatest).ohm(),
                    answer);
        }

        private boolean mayBeGreatest(int j, int greatest, double tail) {
            Reading band = bands.get(j);
            Reading best = bands.get(greatest);
            double freedom = Math.min(band.freedom(), best.freedom());
            return band.ohm() + CoverageFactor.oneSided(tail, freedom) * differenceOhm(band, best) >= best.ohm();
        }

        /** Standard uncertainty in ohms of the difference of two bands. */
        private double differenceOhm(Reading a, Reading b) {
            ErrorDecomposition shareA = common.of(a, NO_LIMITS);
            ErrorDecomposition shareB = common.of(b, NO_LIMITS);
            if (!shareA.isKnown() || !shareB.isKnown()) {
                return a.uOhm() + b.uOhm();
            }
            double variance = a.uOhm() * a.uOhm()
                    + b.uOhm() * b.uOhm()
                    - 2 * a.uOhm() * b.uOhm() * shareA.correlationWith(shareB);
            return Math.sqrt(Math.max(0, variance));
        }

        /** Vertex of the parabola through ln|Z| at a band and its neighbours; its midband where there is none. */
        private double vertex(int j) {
            if (j == 0 || j == bands.size() - 1) {
                return bands.get(j).hz();
            }
            double before = Math.log(bands.get(j - 1).ohm());
            double at = Math.log(bands.get(j).ohm());
            double after = Math.log(bands.get(j + 1).ohm());
            double bend = before - 2 * at + after;
            double steps = bend < 0 ? (before - after) / (2 * bend) : 0;
            return bands.get(j).hz()
                    * Math.pow(bands.get(j + 1).hz() / bands.get(j).hz(), steps);
        }
    }
}
