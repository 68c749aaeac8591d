package ohmprint.app.record;

/** Hears what happens while a session is recorded; called on the thread that records. */
public interface RecordListener {
    /** Hears nothing. */
    RecordListener SILENT = new RecordListener() {};

    /** The machine has come to another step. */
    default void stepped(Step step) {}

    /**
     * The microphone's level, ten times a second.
     *
     * @param peakDbfs highest sample since the last reading, dBFS
     * @param rmsDbfs mean square since then, dBFS
     * @param share share of the take that is recorded, 0 to 1
     */
    default void heard(double peakDbfs, double rmsDbfs, double share) {}

    /** Something worth a word, such as an unfinished take that was found. */
    default void noted(String message) {}
}
