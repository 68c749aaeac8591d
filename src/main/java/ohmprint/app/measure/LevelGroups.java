package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import ohmprint.estimation.LevelCheck;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.impedance.Route;
import ohmprint.session.Take;

/**
 * Takes of one load at two levels: whether the result depends on the level.
 *
 * <p>A load that comes back {@value #STEP_DB} dB or more away was not a drift but another level. Takes are put to levels in
 * their order: one of a new load has the level of the take before it. The curve rests on the level with most loads, on the
 * lower of two alike, where the chain is driven least; the other takes serve for the comparison and are left out of it.
 * Along the reference channel the level of the source is known and taken out, so all takes stay in.
 *
 * @param used the takes that the curve rests on
 * @param uncertain whether the level may as well have changed earlier, before a take that the curve rests on
 * @param findings what is worth a word
 */
record LevelGroups(TakeSet used, boolean uncertain, List<Finding> findings) {
    static final double STEP_DB = 3;
    /** Relative difference of |Z| between levels that counts. */
    static final double LEAST_IMPEDANCE = 0.01;
    /** Relative difference of level between frequencies that counts: 0.1 dB. */
    static final double LEAST_SHAPE = 0.0116;
    /** Bands that have to differ. */
    private static final int LEAST_BANDS = 3;

    /** A take at its level in decibels. */
    private record Level(Take take, double db) {
        boolean isNear(Level other) {
            return Math.abs(other.db - db) < STEP_DB;
        }

        boolean hasLoadOf(Level other) {
            return other.take.load().ohm() == take.load().ohm();
        }
    }

    /**
     * Looks for levels and compares them.
     *
     * @param seen takes with the route and the level of the source
     */
    static LevelGroups of(AlignedSpectra seen) {
        TakeSet takes = seen.takes();
        List<Level> all = levels(seen);
        List<Level> curve = all.stream()
                .map(one -> all.stream().filter(one::isNear).toList())
                .max((a, b) -> {
                    int more = Long.compare(different(a), different(b));
                    return more != 0 ? more : Double.compare(b.get(0).db, a.get(0).db);
                })
                .orElse(all);
        if (curve.size() == all.size() || different(curve) < 2) {
            return new LevelGroups(takes, false, List.of());
        }
        List<Level> others = all.stream().filter(one -> !curve.contains(one)).toList();
        List<Finding> findings = new ArrayList<>();
        boolean compared = false;
        for (Level one : others) {
            Level partner = partner(curve, one).orElse(null);
            if (partner == null) {
                continue;
            }
            if (seen.route() != Route.REFERENCE) {
                findings.add(Wording.ANOTHER_LEVEL.of(one.take.file(), one.db - partner.db, partner.take.file()));
            }
            for (Level next : others.subList(others.indexOf(one) + 1, others.size())) {
                Level second = partner(curve, next).orElse(partner);
                if (!second.equals(partner) && next.isNear(one)) {
                    compared = true;
                    impedance(takes, partner, second, one, next).ifPresent(findings::add);
                }
            }
        }
        if (!compared) {
            for (Level one : others) {
                partner(curve, one)
                        .flatMap(partner -> shape(takes, partner, one))
                        .ifPresent(findings::add);
            }
        }
        boolean reference = seen.route() == Route.REFERENCE;
        boolean uncertain =
                !compared && !reference && others.stream().anyMatch(one -> anotherBetween(takes, curve, one));
        TakeSet used =
                reference ? takes : takes.only(curve.stream().map(Level::take).toList());
        return new LevelGroups(used, uncertain, List.copyOf(findings));
    }

    /** By the reference channel, or by an earlier take with the same load, else that of the take before. */
    private static List<Level> levels(AlignedSpectra seen) {
        List<Level> out = new ArrayList<>();
        for (Take take : seen.takes().takes()) {
            double known = seen.of(take).driftDb();
            out.add(new Level(
                    take,
                    seen.route() == Route.REFERENCE && !Double.isNaN(known)
                            ? known
                            : inOrder(seen.takes(), out, take)));
        }
        return out;
    }

    private static double inOrder(TakeSet takes, List<Level> earlier, Take take) {
        double before = earlier.isEmpty() ? 0 : earlier.get(earlier.size() - 1).db;
        return earlier.stream()
                .filter(one -> one.take.load().ohm() == take.load().ohm())
                .findFirst()
                .map(one -> one.db + RepeatDrift.levelDb(takes, take, one.take))
                .orElse(before);
    }

    private static long different(Collection<Level> group) {
        return TakeSet.differentLoads(group.stream().map(Level::take).toList());
    }

    private static Optional<Level> partner(List<Level> curve, Level one) {
        return curve.stream().filter(one::hasLoadOf).findFirst();
    }

    /** Whether a take of the curve, through another load, was recorded between a take and its partner. */
    private static boolean anotherBetween(TakeSet takes, List<Level> curve, Level one) {
        int here = takes.place(one.take);
        return partner(curve, one)
                .map(partner -> takes.place(partner.take))
                .filter(there -> curve.stream()
                        .filter(m -> !m.hasLoadOf(one))
                        .mapToInt(m -> takes.place(m.take))
                        .anyMatch(m -> m > Math.min(there, here) && m < Math.max(there, here)))
                .isPresent();
    }

    /** Two loads at the level of the curve against the same two at another one. */
    private static Optional<Finding> impedance(TakeSet takes, Level base, Level second, Level one, Level next) {
        LevelCheck check = LevelCheck.ofImpedance(
                takes.bins(),
                takes.loads(),
                new int[] {takes.index(base.take), takes.index(second.take)},
                new int[] {takes.index(one.take), takes.index(next.take)},
                LevelDrift.COMPARED,
                LEAST_IMPEDANCE);
        if (check.significant() < LEAST_BANDS) {
            return Optional.empty();
        }
        double db = one.db - base.db;
        return Optional.of(Wording.ANOTHER_IMPEDANCE.of(
                one.take.file(),
                next.take.file(),
                Math.abs(db),
                db > 0 ? "higher" : "lower",
                base.take.file(),
                second.take.file(),
                100 * check.largest(),
                check.hz(),
                100 * check.median()));
    }

    private static Optional<Finding> shape(TakeSet takes, Level base, Level other) {
        LevelCheck check =
                LevelCheck.ofShape(takes.bins(), takes.index(base.take), takes.index(other.take), LEAST_SHAPE);
        return check.significant() < LEAST_BANDS
                ? Optional.empty()
                : Optional.of(Wording.ANOTHER_SHAPE.of(
                        other.take.file(), base.take.file(), 20 * Math.log10(1 + check.largest()), check.hz()));
    }
}
