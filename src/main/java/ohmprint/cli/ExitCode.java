package ohmprint.cli;

/** What the program's exit code says. */
final class ExitCode {
    /** Done, or help was asked for. */
    static final int DONE = 0;

    /** A fault of the program. */
    static final int BUG = 1;

    /** Bad input or usage; nothing was written. */
    static final int BAD_INPUT = 2;

    /** The evidence does not support a curve; nothing was written. */
    static final int NO_CURVE = 3;

    /** A specification is violated. */
    static final int OUTSIDE = 4;

    /** Whether a specification is met is left open by the uncertainty. */
    static final int UNDECIDED = 5;

    /** A person stopped before all was recorded; what was kept by then counts. */
    static final int STOPPED = 6;

    private ExitCode() {}
}
