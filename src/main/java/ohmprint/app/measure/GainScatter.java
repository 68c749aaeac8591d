package ohmprint.app.measure;

import ohmprint.uncertainty.CoverageFactor;

/**
 * How far the gains of the takes scatter, and how well that is known.
 *
 * <p>Without a repeated load the value believed beforehand is all there is; it is taken for known, and the summary says so. A
 * load repeated ν times gives {@code S = Σ (ln g − mean)²}; one repeat with a difference r has {@code S = r²/2}. Then the belief
 * u₀ counts as ν₀ = 3 earlier observations: a value that may be wrong by 40 %, {@code ½·(Δu₀/u₀)⁻²},
 *
 * <pre>
 * u² = (ν₀·u₀² + S)/(ν₀ + ν)        on ν₀ + ν degrees of freedom
 * </pre>
 *
 * the scale of the posterior of a variance whose prior is the scaled inverse χ² distribution; an error of normal takes then
 * follows Student's t of so many degrees of freedom. The decision page on level drift has what this does. Source: A. Gelman et
 * al., Bayesian Data Analysis, 3rd ed., 2.6 and 3.2 (from memory); JCGM 100:2008, equation (G.3).
 *
 * @param relative standard uncertainty of ln g of every take
 * @param freedom degrees of freedom that {@code relative} rests on; infinite where it counts as known
 */
record GainScatter(double relative, double freedom) {
    /** Observations that a belief counts as. */
    private static final double WEIGHT = 3;

    /** A value that is believed: assumed, or stated in the manifest. */
    static GainScatter believed(double relative) {
        return new GainScatter(relative, Double.POSITIVE_INFINITY);
    }

    /** With what repeated loads show. */
    GainScatter with(RepeatedLoads repeats) {
        int seen = repeats.freedom();
        if (seen == 0) {
            return this;
        }
        double variance = (WEIGHT * relative * relative + repeats.squares()) / (WEIGHT + seen);
        return new GainScatter(Math.sqrt(variance), WEIGHT + seen);
    }

    /**
     * With what loads that are repeated so many times are expected to show before they are: gains that scatter as is believed,
     * {@code S = ν·u₀²}, so that u is u₀, on as many degrees of freedom as it will have.
     */
    GainScatter expecting(int repeats) {
        return repeats == 0 ? this : new GainScatter(relative, WEIGHT + repeats);
    }

    /**
     * Not below what is needed to explain what the takes leave over, which many bins tell. Which of the two asks for more is
     * decided by the intervals that follow from them, {@code t(ν)·u} and {@code 1.96·needed}: a larger misfit never makes a
     * narrower interval.
     */
    GainScatter atLeast(double needed) {
        GainScatter seen = new GainScatter(needed, Double.POSITIVE_INFINITY);
        return seen.expanded() > expanded() ? seen : this;
    }

    private double expanded() {
        return CoverageFactor.student(freedom) * relative;
    }
}
