package ohmprint.app.measure;

import org.jspecify.annotations.Nullable;

/** Standard uncertainty of ln g, g the level of a take, when nothing tells it: see the decision page on level drift. */
public final class LevelDrift {
    /** Takes of the same sound, compared with each other or with the file that was played. */
    public static final double COMPARED = 0.0005;

    /** The same where a reference channel has taken out the source. */
    public static final double REFERENCED = 0.0003;

    /** Takes of different noise, whose levels are never quite alike. */
    public static final double POWER = 0.01;

    private LevelDrift() {}

    /**
     * What is believed of the level of a take: what its manifest states, or else what is assumed.
     *
     * @param statedPercent standard uncertainty in percent, or null where none is stated
     * @param assumed one of the values above
     */
    public static double believed(@Nullable Double statedPercent, double assumed) {
        return statedPercent != null ? statedPercent / 100 : assumed;
    }
}
