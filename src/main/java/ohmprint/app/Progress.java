package ohmprint.app;

/** Hears how far a use case has come; may be called from several threads. */
@FunctionalInterface
public interface Progress {
    /** Hears nothing. */
    Progress SILENT = (what, share) -> {};

    /**
     * A step begins or moves on.
     *
     * @param what what is being done, in words, for example {@code reading take-1.wav}
     * @param share share of the whole that is done, 0 to 1
     */
    void at(String what, double share);
}
