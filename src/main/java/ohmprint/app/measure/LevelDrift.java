package ohmprint.app.measure;

import java.util.List;
import ohmprint.circuit.Load;
import ohmprint.estimation.Priors;
import ohmprint.estimation.TimingCheck;
import ohmprint.impedance.Route;
import ohmprint.uncertainty.CoverageFactor;
import org.jspecify.annotations.Nullable;

/**
 * How far the levels of the takes scatter, and how well that is known: what is believed, what repeated loads show of it, and what
 * the takes leave over.
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
 * @param relative standard uncertainty of ln g of every take, g its level
 * @param freedom degrees of freedom that {@code relative} rests on; infinite where it counts as known
 */
public record LevelDrift(double relative, double freedom) {
    /** Believed of takes of the same sound, compared with each other or with the file that was played. */
    public static final double COMPARED = 0.0005;

    /** The same where a reference channel has taken out the source. */
    public static final double REFERENCED = 0.0003;

    /** Takes of different noise, whose levels are never quite alike. */
    private static final double POWER = 0.01;

    /** Observations that a belief counts as. */
    private static final double WEIGHT = 3;

    /** A value that is believed: assumed, or stated. */
    public static LevelDrift believed(double relative) {
        return new LevelDrift(relative, Double.POSITIVE_INFINITY);
    }

    /**
     * What is believed of the takes of a session: what its manifest states, or else what is assumed on a route.
     *
     * @param statedPercent standard uncertainty in percent, or null where none is stated
     */
    public static LevelDrift believed(@Nullable Double statedPercent, Route route) {
        if (statedPercent != null) {
            return believed(statedPercent / 100);
        }
        return believed(
                switch (route) {
                    case POWER -> POWER;
                    case REFERENCE -> REFERENCED;
                    case STIMULUS, COMMON -> COMPARED;
                });
    }

    /** With what repeated loads show. */
    LevelDrift with(RepeatDrift repeats) {
        int seen = repeats.freedom();
        if (seen == 0) {
            return this;
        }
        double variance = (WEIGHT * relative * relative + repeats.squares()) / (WEIGHT + seen);
        return new LevelDrift(Math.sqrt(variance), WEIGHT + seen);
    }

    /**
     * With what loads that are repeated so many times are expected to show before they are: gains that scatter as is believed,
     * {@code S = ν·u₀²}, so that u is u₀, on as many degrees of freedom as it will have.
     */
    public LevelDrift expecting(int repeats) {
        return repeats == 0 ? this : new LevelDrift(relative, WEIGHT + repeats);
    }

    /** The same for takes with these loads: each whose load an earlier one has is a repeat. */
    public LevelDrift expecting(List<Load> loads) {
        int different = (int) loads.stream().mapToDouble(Load::ohm).distinct().count();
        return expecting(loads.size() - different);
    }

    /**
     * Not below what is needed to explain what the takes leave over, which many bins tell. Which of the two asks for more is
     * decided by the intervals that follow from them, {@code t(ν)·u} and {@code 1.96·needed}: a larger misfit never makes a
     * narrower interval.
     */
    LevelDrift atLeast(double needed) {
        LevelDrift seen = believed(needed);
        return seen.expanded() > expanded() ? seen : this;
    }

    /** What a solver believes of gains, and of delays of this standard uncertainty in seconds. */
    Priors priors(double delaySeconds) {
        return new Priors(relative, freedom, delaySeconds);
    }

    /** The same where playback and recording run on one clock. */
    public Priors priors() {
        return priors(TimingCheck.ONE_CLOCK_SECONDS);
    }

    private double expanded() {
        return CoverageFactor.student(freedom) * relative;
    }
}
