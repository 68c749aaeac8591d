package ohmprint.app.measure;

import java.util.List;
import java.util.stream.IntStream;
import ohmprint.estimate.TakeRecording;

/**
 * The takes that are compared with each other, and in what range: what choosing a route and reading along it share.
 *
 * @param takes all takes
 * @param recordings the same as the observers read them
 * @param sampleRate their sample rate in hertz
 * @param fromHz lowest frequency in hertz
 * @param toHz highest frequency in hertz
 * @param pivot place of the take that delays are counted from
 */
record ComparedTakes(
        List<TakeInspection> takes,
        List<TakeRecording> recordings,
        double sampleRate,
        double fromHz,
        double toHz,
        int pivot) {
    /** Highest frequency that is used, as a share of the sample rate. */
    static final double HIGHEST_SHARE = 0.46;

    /**
     * Takes of one sample rate, counted from the one with the most signal.
     *
     * @param takes one or more
     * @param fromHz lowest frequency in hertz
     * @param toHz highest frequency asked for, in hertz
     */
    static ComparedTakes of(List<TakeInspection> takes, double fromHz, double toHz) {
        double rate = takes.get(0).indicators().sampleRate();
        return new ComparedTakes(
                takes,
                takes.stream().map(TakeInspection::recording).toList(),
                rate,
                fromHz,
                Math.min(toHz, HIGHEST_SHARE * rate),
                loudest(takes));
    }

    /** The take with the smallest load conductance: the one with the most signal. */
    private static int loudest(List<TakeInspection> takes) {
        return IntStream.range(0, takes.size())
                .boxed()
                .min((a, b) -> Double.compare(conductance(takes, a), conductance(takes, b)))
                .orElseThrow();
    }

    private static double conductance(List<TakeInspection> takes, int k) {
        return takes.get(k).take().load().conductance();
    }

    /** Number of takes. */
    int size() {
        return takes.size();
    }

    /** Name of the file of take {@code k}. */
    String file(int k) {
        return takes.get(k).take().file();
    }

    /** True when no take is longer than so many frames. */
    boolean fit(int frames) {
        return takes.stream().allMatch(t -> t.indicators().frames() <= frames);
    }
}
