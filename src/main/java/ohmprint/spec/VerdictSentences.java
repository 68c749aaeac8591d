package ohmprint.spec;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import ohmprint.curve.BandStatus;

/** What was found about one requirement, in sentences. */
final class VerdictSentences {
    private static final int MOST_STRETCHES = 6;

    private final RequirementVerdict verdict;

    VerdictSentences(RequirementVerdict verdict) {
        this.verdict = verdict;
    }

    List<String> all() {
        List<String> out = new ArrayList<>();
        PeakCheck peak = verdict.peak();
        if (peak != null) {
            if (!Double.isNaN(peak.peakHz())) {
                out.add(peak(peak));
            }
        } else if (verdict.conformity() == Conformity.WITHIN) {
            out.add(within(new Stretch(Conformity.WITHIN, null, verdict.checks())));
        } else {
            stretches(out);
        }
        out.addAll(verdict.reasons());
        return out;
    }

    private void stretches(List<String> out) {
        List<Stretch> open = Stretch.of(verdict.checks()).stream()
                .filter(s -> s.conformity() != Conformity.WITHIN)
                .filter(s -> s.checks().stream().anyMatch(c -> c.status() != BandStatus.REJECTED))
                .sorted(Comparator.comparing((Stretch s) -> s.conformity() != Conformity.OUTSIDE)
                        .thenComparing(s -> -s.checks().size()))
                .toList();
        open.stream()
                .limit(MOST_STRETCHES)
                .sorted(Comparator.comparing((Stretch s) -> s.conformity() != Conformity.OUTSIDE)
                        .thenComparing(Stretch::fromHz))
                .forEach(s -> out.add(stretch(s)));
        if (open.size() > MOST_STRETCHES) {
            out.add("and " + (open.size() - MOST_STRETCHES) + " shorter stretches");
        }
    }

    private static String stretch(Stretch stretch) {
        BandCheck worst = stretch.worst();
        String where = stretch.checks().size() == 1
                ? "at " + InWords.hertz(worst.hz()) + ": "
                : "from " + InWords.range(stretch.fromHz(), stretch.toHz()) + " ("
                        + stretch.checks().size() + " bands), furthest at " + InWords.hertz(worst.hz()) + ": ";
        String against = " against " + InWords.limits(worst.limits());
        Side side = stretch.side();
        if (side != null) {
            return (side == Side.LOW ? "too low " : "too high ") + where + value(worst) + against + ", "
                    + InWords.difference(worst.beyondOhm()) + " (" + InWords.percent(worst.beyondPercent()) + ") "
                    + (side == Side.LOW ? "below" : "above");
        }
        String probability = Double.isNaN(worst.probability())
                ? ""
                : ", inside with " + InWords.probability(worst.probability()) + " probability";
        return "undecided " + where.replace("furthest", "nearest to a limit or beyond") + value(worst) + against
                + probability;
    }

    private static String within(Stretch all) {
        BandCheck nearest = all.worst();
        String where = all.checks().size() == 1 ? "" : "in all " + all.checks().size() + " bands, nearest to a limit ";
        String inside = Double.isNaN(nearest.beyondOhm())
                ? ""
                : ", " + InWords.difference(-nearest.beyondOhm()) + " (" + InWords.percent(-nearest.beyondPercent())
                        + ") inside";
        return where + "at " + InWords.hertz(nearest.hz()) + ": " + value(nearest) + inside;
    }

    private static String value(BandCheck check) {
        if (check.status() == BandStatus.MEASURED) {
            return InWords.measured(check.ohm(), check.u95Ohm());
        }
        return Double.isInfinite(check.boundHighOhm())
                ? InWords.ohms(check.boundLowOhm()) + " or more"
                : "between " + InWords.ohms(check.boundLowOhm()) + " and " + InWords.ohms(check.boundHighOhm());
    }

    private static String peak(PeakCheck peak) {
        return "greatest |Z| at " + InWords.hertz(peak.peakHz()) + ", surely between "
                + InWords.range(peak.earliestHz(), peak.latestHz()).replace(" to ", " and ");
    }
}
