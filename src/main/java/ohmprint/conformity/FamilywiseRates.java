package ohmprint.conformity;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import ohmprint.conformity.CommonErrors.ErrorDecomposition;
import ohmprint.conformity.Limits.Side;
import ohmprint.impedance.ImpedanceCurve;

/**
 * Rates at which one check of a requirement may raise a false alarm to a side, so that all checks together raise one at the
 * rate that is wanted.
 *
 * <p>Each requirement begins with an even share of the rate, evenly shared between its checks (Bonferroni). Its threshold, in
 * standard uncertainties, is lowered until its checks together use its share, and then all thresholds are lowered by the same
 * amount until all checks together use the whole rate; {@link SimultaneousQuantile} tells both. So the thresholds are never above
 * those of Bonferroni. Degrees of freedom are left to the single check: for errors with a common estimate of their scale that
 * is cautious.
 *
 * @param low rate of one check of a lower limit, 0.025 at most
 * @param high rate of one check of an upper limit, 0.025 at most
 */
record FamilywiseRates(double low, double high) {
    /** Rate of false answers to one side at a limit. */
    static final double SIDE_RATE = 0.025;

    /**
     * The rates of each requirement.
     *
     * @param curve where the readings come from
     * @param requirements the checks of each requirement
     * @param share rate of false alarms of each requirement to one side; together they may use the sum
     */
    static List<FamilywiseRates> of(ImpedanceCurve curve, List<List<LimitedReading>> requirements, double share) {
        double[] low = side(curve, requirements, share, Side.LOW);
        boolean same = requirements.stream()
                .flatMap(List::stream)
                .allMatch(check -> check.counts(Side.LOW) == check.counts(Side.HIGH));
        double[] high = same ? low : side(curve, requirements, share, Side.HIGH);
        List<FamilywiseRates> out = new ArrayList<>();
        for (int r = 0; r < low.length; r++) {
            out.add(new FamilywiseRates(low[r], high[r]));
        }
        return out;
    }

    private static double[] side(
            ImpedanceCurve curve, List<List<LimitedReading>> requirements, double share, Side side) {
        CommonErrors common = new CommonErrors(curve);
        List<ErrorDecomposition> errors = new ArrayList<>();
        List<Integer> owner = new ArrayList<>();
        for (int r = 0; r < requirements.size(); r++) {
            for (LimitedReading check : requirements.get(r)) {
                if (check.counts(side)) {
                    errors.add(common.of(check.reading(), check.limits()));
                    owner.add(r);
                }
            }
        }
        SimultaneousQuantile joint = SimultaneousQuantile.of(errors);
        double[] factor = new double[requirements.size()];
        for (int r = 0; r < factor.length; r++) {
            int requirement = r;
            long count = owner.stream().filter(o -> o == requirement).count();
            factor[r] = SimultaneousQuantile.factor(share / Math.max(1, count));
            factor[r] -= joint.lowering(thresholds(factor, owner, r), share);
        }
        double less = factor.length < 2 ? 0 : joint.lowering(thresholds(factor, owner, -1), share * factor.length);
        return Arrays.stream(factor)
                .map(f -> SimultaneousQuantile.tail(f - less))
                .toArray();
    }

    /** The factor of its requirement for each error; those of one requirement alone, or of all (−1). */
    private static double[] thresholds(double[] factor, List<Integer> owner, int only) {
        return owner.stream()
                .mapToDouble(o -> only < 0 || o == only ? factor[o] : Double.POSITIVE_INFINITY)
                .toArray();
    }
}
