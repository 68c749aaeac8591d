package ohmprint.app.workspace;

/**
 * What happened at a desk.
 *
 * @param id grows from event to event
 * @param kind {@code session} with a {@link SessionView}, {@code curve} with a {@link CurveView}, {@code level}, {@code note}
 *     or {@code measuring} with the records below
 * @param content a record
 */
public record DeskEvent(long id, String kind, Object content) {
    /**
     * The microphone's level while sound runs.
     *
     * @param peakDbfs highest sample since the last reading, dBFS
     * @param rmsDbfs mean square since then, dBFS
     * @param share share of the take that is recorded, 0 to 1
     */
    public record Level(double peakDbfs, double rmsDbfs, double share) {}

    /**
     * Something worth a word.
     *
     * @param message a sentence
     */
    public record Note(String message) {}

    /**
     * A measurement is on its way.
     *
     * @param share how far it is, 0 to 1
     * @param doing what it does
     */
    public record Measuring(double share, String doing) {}
}
