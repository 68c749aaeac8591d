package ohmprint.app;

/** Standard uncertainty of ln g, g the level of a take, when nothing tells it: see the decision page on level drift. */
final class LevelDrift {
    /** Takes of the same sound, compared with each other or with the file that was played. */
    static final double COMPARED = 0.0005;

    /** The same where a reference channel has taken out the source. */
    static final double REFERENCED = 0.0003;

    /** Takes of different noise, whose levels are never quite alike. */
    static final double POWER = 0.01;

    private LevelDrift() {}
}
