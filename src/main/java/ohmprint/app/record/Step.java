package ohmprint.app.record;

/** Where a recording stands. */
public enum Step {
    /** The cautions are to be read. */
    CAUTIONS,
    /** The highest load is to be fitted and the level to be set. */
    LEVEL,
    /** The load of the next take is to be fitted. */
    FIT,
    /** Sound is running. */
    SOUNDING,
    /** A take is recorded and checked: keep or repeat it. */
    JUDGE,
    /** All takes are kept. */
    DONE
}
