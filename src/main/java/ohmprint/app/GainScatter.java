package ohmprint.app;

/**
 * How far the gains of the takes scatter, and how well that is known.
 *
 * <p>Without a repeated load the value believed beforehand is all there is; it is taken for known, and the summary says so. A
 * load repeated ν times gives {@code S = Σ (ln g − mean)²}; one repeat with a difference r has {@code S = r²/2}. Then the belief
 * counts as ν₀ earlier observations,
 *
 * <pre>
 * u² = (ν₀·u₀² + S)/(ν₀ + ν)        on ν₀ + ν degrees of freedom
 * ν₀ = 8·min[1, 4·ν·u₀²/S]
 * </pre>
 *
 * the scale of the posterior of a variance whose prior is the scaled inverse χ² distribution; an error of normal takes then
 * follows Student's t of so many degrees of freedom. Eight stand for a u₀ that may be wrong by a quarter,
 * {@code ½·(Δu₀/u₀)⁻²}. A belief that the repeats contradict by more than twice u₀ counts for less in proportion, so that
 * in the end the repeats speak alone. As whoever repeats a load does not take the level on trust, u₀ is then 2.5 times the value
 * that is otherwise assumed, 0.011 dB instead of 0.004 dB. The decision page on level drift has what this does. Sources: A. Gelman
 * et al., Bayesian Data Analysis, 3rd ed., 2.6 and 3.2 (from memory); JCGM 100:2008, equation (G.3); the discount is the
 * project's own.
 *
 * @param relative standard uncertainty of ln g of every take
 * @param believed u₀, for when loads are repeated
 * @param freedom degrees of freedom that {@code relative} rests on; infinite where it counts as known
 */
record GainScatter(double relative, double believed, double freedom) {
    /** Eight observations: a standard uncertainty that may be wrong by a quarter. */
    private static final double WEIGHT = 8;

    private static final double CONTRADICTED = 2;
    private static final double NOT_ON_TRUST = 2.5;

    /** A value that nobody stated. */
    static GainScatter assumed(double relative) {
        return new GainScatter(relative, NOT_ON_TRUST * relative, Double.POSITIVE_INFINITY);
    }

    /** A value from the manifest. */
    static GainScatter stated(double relative) {
        return new GainScatter(relative, relative, Double.POSITIVE_INFINITY);
    }

    /** With what repeated loads show. */
    GainScatter with(RepeatedLoads repeats) {
        int seen = repeats.freedom();
        if (seen == 0) {
            return this;
        }
        double allowed = CONTRADICTED * CONTRADICTED * seen * believed * believed;
        double weight = repeats.squares() > allowed ? WEIGHT * allowed / repeats.squares() : WEIGHT;
        double variance = (weight * believed * believed + repeats.squares()) / (weight + seen);
        return new GainScatter(Math.sqrt(variance), believed, weight + seen);
    }

    /** Not below what is needed to explain what the takes leave over. */
    GainScatter atLeast(double needed) {
        return needed > relative ? new GainScatter(needed, believed, Double.POSITIVE_INFINITY) : this;
    }
}
