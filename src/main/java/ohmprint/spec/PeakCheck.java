package ohmprint.spec;

/**
 * The frequency of the greatest |Z| against its window.
 *
 * @param window the window
 * @param peakHz best estimate in hertz; NaN when nothing can be said
 * @param earliestHz lower end in hertz of where it may lie; NaN when nothing can be said
 * @param latestHz upper end in hertz; NaN when nothing can be said
 * @param peakOhm the greatest measured |Z| in ohms; NaN when nothing can be said
 * @param conformity the answer
 */
public record PeakCheck(
        ResonanceWindow window,
        double peakHz,
        double earliestHz,
        double latestHz,
        double peakOhm,
        Conformity conformity) {
    static PeakCheck unknown(ResonanceWindow window) {
        double none = Double.NaN;
        return new PeakCheck(window, none, none, none, none, Conformity.UNDECIDED);
    }
}
