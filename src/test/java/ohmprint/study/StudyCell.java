package ohmprint.study;

/** What the study draws sessions of. */
interface StudyCell {
    /** All of it in one line. */
    String name();

    /** How many sessions are drawn. */
    int sessions();

    /** Start of the random numbers of session {@code number}: the same whatever else is run. */
    default long seed(int number) {
        return name().hashCode() * 0x9E3779B97F4A7C15L + number;
    }

    /** A cell that runs its sessions by itself: no coherent route drawn bin by bin alone, as {@link Cell} is. */
    interface Drawn<R> extends StudyCell {
        /** What a session costs, in sessions of the fast study. */
        long costOfOne();

        /**
         * Runs its sessions.
         *
         * @param done told after each session
         */
        R run(Runnable done);
    }
}
