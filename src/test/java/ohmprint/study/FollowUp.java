package ohmprint.study;

/** A cell of the study that is not a coherent route alone: levels, and what follows from a curve. */
interface FollowUp {
    /** All of it in one line. */
    String name();

    /** How many sessions are drawn. */
    int sessions();

    /** What a session costs, in sessions of the fast study. */
    long costOfOne();

    /**
     * Runs its sessions.
     *
     * @param done told after each session
     */
    FollowUpResult run(Runnable done);
}
