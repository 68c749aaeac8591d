package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode.Wording;
import ohmprint.curve.Route;
import ohmprint.estimate.BinObservations;
import ohmprint.estimate.LevelCheck;
import ohmprint.estimate.LoadedTakes;
import ohmprint.session.Take;

/**
 * Takes of one load at two levels: whether the result depends on the level.
 *
 * <p>A load that comes back {@value #STEP_DB} dB or more away was not a drift but another level. Takes are put to levels in
 * their order: one of a new load has the level of the take before it. The curve rests on the level with most loads, on the
 * lower of two alike, where the chain is driven least; the other takes serve for the comparison and are left out of it.
 * Along the reference channel the level of the source is known and taken out, so all takes stay in.
 *
 * @param used indices of the takes that the curve rests on, ascending
 * @param uncertain whether the level may as well have changed earlier, before a take that the curve rests on
 * @param findings what is worth a word
 */
record LevelSteps(int[] used, boolean uncertain, List<Finding> findings) {
    static final double STEP_DB = 3;
    /** Relative difference of |Z| between levels that counts. */
    static final double LEAST_IMPEDANCE = 0.01;
    /** Relative difference of level between frequencies that counts: 0.1 dB. */
    static final double LEAST_SHAPE = 0.0116;
    /** Bands that have to differ. */
    private static final int LEAST_BANDS = 3;

    /**
     * Looks for levels and compares them.
     *
     * @param seen what the kept takes hold, for the route and the level of the source
     * @param takes what the kept takes drive
     * @param kept their entries in the manifest
     */
    static LevelSteps of(Observation seen, LoadedTakes takes, List<Take> kept) {
        BinObservations bins = seen.bins();
        int[] all = IntStream.range(0, takes.size()).toArray();
        double[] level = new double[takes.size()];
        for (int k = 0; k < level.length; k++) {
            double known = seen.driftDb()[seen.kept()[k]];
            level[k] = seen.route() == Route.REFERENCE && !Double.isNaN(known)
                    ? known
                    : levelInOrder(bins, kept, level, k);
        }
        int[] curve = Arrays.stream(all)
                .boxed()
                .map(k -> group(level, k))
                .max((a, b) -> {
                    int more = Long.compare(different(a, kept), different(b, kept));
                    return more != 0 ? more : Double.compare(level[b[0]], level[a[0]]);
                })
                .orElse(all);
        List<Finding> findings = new ArrayList<>();
        if (curve.length == all.length || different(curve, kept) < 2) {
            return new LevelSteps(all, false, findings);
        }
        int[] others = Arrays.stream(all)
                .filter(k -> Arrays.stream(curve).noneMatch(c -> c == k))
                .toArray();
        boolean compared = false;
        for (int k : others) {
            int partner = partner(curve, kept, k);
            if (partner < 0) {
                continue;
            }
            if (seen.route() != Route.REFERENCE) {
                findings.add(step(kept, k, partner, level[k] - level[partner]));
            }
            for (int j : others) {
                int second = partner(curve, kept, j);
                boolean pair = second >= 0 && second != partner && j > k && Math.abs(level[j] - level[k]) < STEP_DB;
                if (pair) {
                    compared = true;
                    impedance(
                            findings,
                            bins,
                            takes,
                            kept,
                            new int[] {partner, second},
                            new int[] {k, j},
                            level[k] - level[partner]);
                }
            }
        }
        for (int k : others) {
            int partner = partner(curve, kept, k);
            if (!compared && partner >= 0) {
                shape(findings, bins, kept, partner, k);
            }
        }
        boolean known = compared || seen.route() == Route.REFERENCE;
        boolean uncertain = !known && Arrays.stream(others).anyMatch(k -> anotherBetween(curve, kept, k));
        return new LevelSteps(seen.route() == Route.REFERENCE ? all : curve, uncertain, List.copyOf(findings));
    }

    /** Level of take k by that of an earlier one with its load, else that of the take before; decibels. */
    private static double levelInOrder(BinObservations bins, List<Take> kept, double[] level, int k) {
        for (int j = 0; j < k; j++) {
            if (kept.get(j).load().ohm() == kept.get(k).load().ohm()) {
                return level[j] + RepeatedLoads.levelDb(bins, k, j);
            }
        }
        return k == 0 ? 0 : level[k - 1];
    }

    private static int[] group(double[] level, int of) {
        return IntStream.range(0, level.length)
                .filter(k -> Math.abs(level[k] - level[of]) < STEP_DB)
                .toArray();
    }

    private static long different(int[] group, List<Take> kept) {
        return Arrays.stream(group)
                .mapToDouble(k -> kept.get(k).load().conductance())
                .distinct()
                .count();
    }

    private static int partner(int[] curve, List<Take> kept, int k) {
        return Arrays.stream(curve)
                .filter(j -> kept.get(j).load().ohm() == kept.get(k).load().ohm())
                .findFirst()
                .orElse(-1);
    }

    /** Whether a take of the curve, through another load, was recorded between take k and its partner. */
    private static boolean anotherBetween(int[] curve, List<Take> kept, int k) {
        int partner = partner(curve, kept, k);
        return partner >= 0
                && Arrays.stream(curve)
                        .anyMatch(m -> m > Math.min(partner, k)
                                && m < Math.max(partner, k)
                                && kept.get(m).load().ohm()
                                        != kept.get(k).load().ohm());
    }

    private static Finding step(List<Take> kept, int k, int partner, double db) {
        return Wording.ANOTHER_LEVEL.of(
                kept.get(k).file(), db, kept.get(partner).file());
    }

    private static void impedance(
            List<Finding> findings,
            BinObservations bins,
            LoadedTakes takes,
            List<Take> kept,
            int[] base,
            int[] other,
            double db) {
        LevelCheck check = LevelCheck.ofImpedance(bins, takes, base, other, LevelDrift.COMPARED, LEAST_IMPEDANCE);
        if (check.significant() >= LEAST_BANDS) {
            findings.add(Wording.ANOTHER_IMPEDANCE.of(
                    kept.get(other[0]).file(),
                    kept.get(other[1]).file(),
                    Math.abs(db),
                    db > 0 ? "higher" : "lower",
                    kept.get(base[0]).file(),
                    kept.get(base[1]).file(),
                    100 * check.largest(),
                    check.hz(),
                    100 * check.median()));
        }
    }

    private static void shape(List<Finding> findings, BinObservations bins, List<Take> kept, int base, int other) {
        LevelCheck check = LevelCheck.ofShape(bins, base, other, LEAST_SHAPE);
        if (check.significant() >= LEAST_BANDS) {
            findings.add(Wording.ANOTHER_SHAPE.of(
                    kept.get(other).file(), kept.get(base).file(), 20 * Math.log10(1 + check.largest()), check.hz()));
        }
    }
}
