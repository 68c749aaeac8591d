package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.curve.BandStatus;
import ohmprint.curve.BandValue;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode.Wording;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.PlaneCovariance;
import ohmprint.curve.Rounded;
import ohmprint.estimate.TakeAgreement;
import ohmprint.session.Take;

/** What the curve and the agreement of the takes show, in words. */
final class CurveFindings {
    private static final double LOW_SNR_DB = 20;
    /** Share of the visible misfit from which a single take is named: leaving it out shows what is wrong. */
    private static final double SUSPECT_SHARE = 0.2;
    /** Level change that is worth a word, dB. */
    private static final double LEVEL_DB = 0.04;

    private static final double DECISIVE = 0.5;
    private static final double COVERAGE = 3;

    private CurveFindings() {}

    /** Bands with little signal, and those without any. */
    static List<Finding> weak(ImpedanceCurve curve) {
        List<Finding> out = new ArrayList<>();
        String weak = ranges(curve, v -> v.status() != BandStatus.REJECTED && v.snrDb() < LOW_SNR_DB);
        String none = ranges(curve, v -> v.status() == BandStatus.REJECTED);
        if (!weak.isEmpty()) {
            out.add(Wording.WEAK_BANDS.of(null, weak));
        }
        if (!none.isEmpty()) {
            out.add(Wording.EMPTY_BANDS.of(null, none));
        }
        return out;
    }

    /** True for a resistance below zero beyond its uncertainty, in a band with a clear signal. */
    static boolean isNegative(BandValue v) {
        PlaneCovariance c = v.covariance();
        return c != null
                && v.isMeasured()
                && v.snrDb() >= LOW_SNR_DB
                && v.resistanceOhm() < -COVERAGE * Math.sqrt(c.varR());
    }

    /** Resistances that no passive source has; one band alone is left to chance. */
    static List<Finding> negative(ImpedanceCurve curve) {
        if (curve.values().stream().filter(CurveFindings::isNegative).count() < 2) {
            return List.of();
        }
        return List.of(Wording.BELOW_ZERO.of(null, ranges(curve, CurveFindings::isNegative)));
    }

    /** Whether the take's load or level is not what it was said to be. */
    static List<Finding> agreement(TakeAgreement seen, TakeSet takes, Subject subject) {
        if (!disagrees(seen)) {
            return List.of();
        }
        if (seen.suspect() < 0) {
            return List.of(Wording.LOAD_OF_SOME_TAKE.of(
                    null,
                    seen.misfit() < 1 ? Rounded.digits(100 * seen.misfit(), 2) + " %" : "as large as all",
                    subject.resistor(),
                    subject.resistor()));
        }
        Take take = takes.takes().get(seen.suspect());
        if (seen.levelExplainsBetter()) {
            return List.of(Wording.LEVEL_OF_ONE_TAKE.of(take.file(), seen.fittingLevelDb()));
        }
        return List.of(Wording.LOAD_OF_ONE_TAKE.of(
                take.file(),
                subject.label(take.load()),
                subject == Subject.INPUT && Double.isInfinite(seen.fittingOhm())
                        ? "no resistor"
                        : ohms(subject.ohm(seen.fittingOhm()))));
    }

    /** True when the suspected take is to be left out. */
    static boolean leavesOut(TakeAgreement seen) {
        return disagrees(seen) && seen.suspect() >= 0;
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

    /** An ohm value with three significant digits. */
    static String ohms(double ohm) {
        if (Double.isInfinite(ohm)) {
            return "no resistor (open)";
        }
        return Rounded.digits(ohm, 3) + " Ω";
    }

    /** A condition on a band. */
    private interface Condition {
        boolean holds(BandValue value);
    }

    /** Runs of bands that meet a condition, as {@code 20–31 Hz, 16–20 kHz}; of many only the first five. */
    private static String ranges(ImpedanceCurve curve, Condition condition) {
        List<String> runs = new ArrayList<>();
        List<BandValue> values = curve.values();
        int i = 0;
        while (i < values.size()) {
            if (!condition.holds(values.get(i))) {
                i++;
                continue;
            }
            int j = i;
            while (j + 1 < values.size() && condition.holds(values.get(j + 1))) {
                j++;
            }
            String from = hertz(values.get(i).frequencyHz());
            String to = hertz(values.get(j).frequencyHz());
            runs.add(from.equals(to) ? from : from + " to " + to);
            i = j + 1;
        }
        String more = runs.size() > 5 ? " and " + (runs.size() - 5) + " more ranges" : "";
        return String.join(", ", runs.subList(0, Math.min(5, runs.size()))) + more;
    }

    private static String hertz(double hz) {
        return hz < 1000
                ? String.format(Locale.ROOT, "%.0f Hz", hz)
                : String.format(Locale.ROOT, "%.1f kHz", hz / 1000);
    }
}
