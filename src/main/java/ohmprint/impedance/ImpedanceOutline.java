package ohmprint.impedance;

import java.util.List;

/**
 * What levels alone tell of R and |Z| together: the edge of the region in which 95 % intervals lie.
 *
 * <p>The region is that in which the profile of the likelihood stays within what 95 % of one quantity allows. The interval of any
 * quantity that follows from R and |Z| is the range of it over the region; of one that is linear there the edge tells it:
 * {@code max |a·(R − R₀) + b·(|Z| − |Z|₀)|} over the edge is its 95 % expanded uncertainty. Source: S. S. Wilks, Ann. Math.
 * Statist. 9 (1938) 60–62; profile of a function of several parameters, from memory.
 *
 * @param resistanceOhm R of each point of the edge, ohms
 * @param magnitudeOhm |Z| of each, ohms, same order
 */
public record ImpedanceOutline(List<Double> resistanceOhm, List<Double> magnitudeOhm) {
    /**
     * Copies the lists.
     *
     * @throws IllegalArgumentException if they differ in length, are empty or hold what is not finite
     */
    public ImpedanceOutline {
        resistanceOhm = List.copyOf(resistanceOhm);
        magnitudeOhm = List.copyOf(magnitudeOhm);
        if (resistanceOhm.size() != magnitudeOhm.size() || resistanceOhm.isEmpty()) {
            throw new IllegalArgumentException("an outline of " + resistanceOhm.size() + " resistances and "
                    + magnitudeOhm.size() + " magnitudes; give as many of both, one or more");
        }
        for (int i = 0; i < resistanceOhm.size(); i++) {
            if (!Double.isFinite(resistanceOhm.get(i) + magnitudeOhm.get(i))) {
                throw new IllegalArgumentException("point " + (i + 1) + " of an outline is " + resistanceOhm.get(i)
                        + " Ω and " + magnitudeOhm.get(i) + " Ω; give finite numbers");
            }
        }
    }

    /**
     * 95 % expanded uncertainty of a quantity, in its unit.
     *
     * @param byResistance its derivative by R, per ohm
     * @param byMagnitude its derivative by |Z|, per ohm
     * @param resistance estimate of R, ohms
     * @param magnitude estimate of |Z|, ohms
     */
    public double reach(double byResistance, double byMagnitude, double resistance, double magnitude) {
        double reach = 0;
        for (int i = 0; i < resistanceOhm.size(); i++) {
            double off = byResistance * (resistanceOhm.get(i) - resistance)
                    + byMagnitude * (magnitudeOhm.get(i) - magnitude);
            reach = Math.max(reach, Math.abs(off));
        }
        return reach;
    }
}
