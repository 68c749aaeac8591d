package ohmprint.conformity;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import java.util.stream.Collectors;
import ohmprint.conformity.Limits.Side;
import ohmprint.impedance.BandStatus;
import ohmprint.text.Numbers;
import org.jspecify.annotations.Nullable;

/**
 * The answer to one requirement.
 *
 * @param kind which it is
 * @param words what is required, in words
 * @param conformity the answer
 * @param checks |Z| against its limits, by frequency; none for a resonance
 * @param peak the resonance against its window; null for the others
 * @param reasons why it is undecided beyond uncertainty, a sentence each
 */
public record RequirementVerdict(
        Kind kind,
        String words,
        Conformity conformity,
        List<BandCheck> checks,
        @Nullable PeakCheck peak,
        List<String> reasons) {
    private static final int MOST_STRETCHES = 6;

    /** Copies the lists. */
    public RequirementVerdict {
        checks = List.copyOf(checks);
        reasons = List.copyOf(reasons);
    }

    /** What was found, a sentence each, without full stop: where it is violated and by how much, or what is left open. */
    public List<String> findings() {
        List<String> out = new ArrayList<>();
        if (peak != null) {
            if (!Double.isNaN(peak.peakHz())) {
                out.add(where(peak));
            }
        } else if (conformity == Conformity.WITHIN) {
            out.add(within(new BandRun(Conformity.WITHIN, null, checks)));
        } else {
            stretches(out);
        }
        out.addAll(reasons);
        return out;
    }

    private void stretches(List<String> out) {
        List<BandRun> open = BandRun.of(checks).stream()
                .filter(s -> s.conformity() != Conformity.WITHIN)
                .filter(s -> s.checks().stream().anyMatch(c -> c.status() != BandStatus.REJECTED))
                .sorted(Comparator.comparing((BandRun s) -> s.conformity() != Conformity.OUTSIDE)
                        .thenComparing(s -> -s.checks().size()))
                .toList();
        open.stream()
                .limit(MOST_STRETCHES)
                .sorted(Comparator.comparing((BandRun s) -> s.conformity() != Conformity.OUTSIDE)
                        .thenComparing(BandRun::fromHz))
                .forEach(s -> out.add(stretch(s)));
        if (open.size() > MOST_STRETCHES) {
            out.add("and " + (open.size() - MOST_STRETCHES) + " shorter stretches");
        }
    }

    private static String stretch(BandRun stretch) {
        BandCheck worst = stretch.worst();
        String where = stretch.checks().size() == 1
                ? "at " + Numbers.briefFrequency(worst.hz()) + ": "
                : "from " + InWords.range(stretch.fromHz(), stretch.toHz()) + " ("
                        + stretch.checks().size() + " bands), furthest at " + Numbers.briefFrequency(worst.hz()) + ": ";
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

    private static String within(BandRun all) {
        BandCheck nearest = all.worst();
        String where = all.checks().size() == 1 ? "" : "in all " + all.checks().size() + " bands, nearest to a limit ";
        String inside = Double.isNaN(nearest.beyondOhm())
                ? ""
                : ", " + InWords.difference(-nearest.beyondOhm()) + " (" + InWords.percent(-nearest.beyondPercent())
                        + ") inside";
        return where + "at " + Numbers.briefFrequency(nearest.hz()) + ": " + value(nearest) + inside;
    }

    private static String value(BandCheck check) {
        if (check.status() == BandStatus.MEASURED) {
            return InWords.measured(check.ohm(), check.u95Ohm());
        }
        return Double.isInfinite(check.boundHighOhm())
                ? Numbers.ohms(check.boundLowOhm()) + " or more"
                : "between " + Numbers.ohms(check.boundLowOhm()) + " and " + Numbers.ohms(check.boundHighOhm());
    }

    private static String where(PeakCheck peak) {
        return "greatest |Z| at " + Numbers.briefFrequency(peak.peakHz()) + ", surely between "
                + InWords.range(peak.earliestHz(), peak.latestHz()).replace(" to ", " and ");
    }

    /** Kinds of requirements. */
    public enum Kind {
        /** |Z| at one frequency. */
        RATED_IMPEDANCE,
        /** Limits in a range of frequencies. */
        MASK,
        /** Frequency of the greatest |Z|. */
        RESONANCE,
        /** A curve with limits. */
        REFERENCE;

        /** The word used in files: lower case with underscores, as in a specification. */
        public String word() {
            return name().toLowerCase(Locale.ROOT);
        }

        /** The words used in sentences. */
        public String words() {
            return word().replace('_', ' ');
        }
    }

    /**
     * Neighbouring checks with the same answer.
     *
     * @param conformity the answer of all of them
     * @param side the limit that is violated, of outside ones; null for others
     * @param checks the checks by frequency, at least one
     */
    record BandRun(Conformity conformity, @Nullable Side side, List<BandCheck> checks) {
        /** Copies the list. */
        public BandRun {
            checks = List.copyOf(checks);
        }

        /** The checks of a requirement as stretches, by frequency. */
        public static List<BandRun> of(List<BandCheck> checks) {
            return runs(checks, c -> c.conformity() + " " + violated(c)).stream()
                    .map(run -> new BandRun(run.get(0).conformity(), violated(run.get(0)), run))
                    .toList();
        }

        /** Frequency of the first check in hertz. */
        public double fromHz() {
            return checks.get(0).hz();
        }

        /** Frequency of the last check in hertz. */
        public double toHz() {
            return checks.get(checks.size() - 1).hz();
        }

        /**
         * The check that lies furthest beyond its limit, or nearest to it, in percent; where none is known to, the first with a
         * value or bounds.
         */
        public BandCheck worst() {
            BandCheck worst = checks.stream()
                    .filter(check -> check.status() != BandStatus.REJECTED)
                    .findFirst()
                    .orElse(checks.get(0));
            for (BandCheck check : checks) {
                boolean further = check.beyondPercent() > worst.beyondPercent() || Double.isNaN(worst.beyondPercent());
                worst = further && !Double.isNaN(check.beyondPercent()) ? check : worst;
            }
            return worst;
        }

        /** Sentences on checks without a value. */
        static List<String> notMeasured(List<BandCheck> checks) {
            return runs(checks, BandCheck::status).stream()
                    .filter(run -> run.get(0).status() == BandStatus.REJECTED)
                    .map(run -> run.size() == 1
                            ? "the curve has no value at "
                                    + Numbers.briefFrequency(run.get(0).hz())
                            : "the curve has no value in " + run.size() + " bands from "
                                    + InWords.range(
                                            run.get(0).hz(),
                                            run.get(run.size() - 1).hz()))
                    .map(words -> words + "; record again with more signal there")
                    .collect(Collectors.toList());
        }

        private static @Nullable Side violated(BandCheck check) {
            return check.conformity() == Conformity.OUTSIDE ? check.side() : null;
        }

        private static <K> List<List<BandCheck>> runs(List<BandCheck> checks, Function<BandCheck, K> key) {
            List<List<BandCheck>> out = new ArrayList<>();
            K last = null;
            for (BandCheck check : checks) {
                K now = key.apply(check);
                if (out.isEmpty() || !now.equals(last)) {
                    out.add(new ArrayList<>());
                }
                out.get(out.size() - 1).add(check);
                last = now;
            }
            return out;
        }
    }
}
