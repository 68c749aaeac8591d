package ohmprint.app.measure;

import java.io.IOException;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.estimation.BinObservations;
import ohmprint.estimation.StimulusObserver;
import ohmprint.estimation.TakeRecording;
import ohmprint.estimation.TakeSpectra;
import ohmprint.session.Session;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/**
 * The takes that are compared with each other, and in what range: what choosing a route and reading along it share.
 *
 * @param session the session
 * @param takes those of its takes that are compared, in their order
 * @param sampleRate their sample rate in hertz
 * @param fromHz lowest frequency in hertz
 * @param toHz highest frequency in hertz
 * @param pivot place among them of the take that delays are counted from
 */
record ComparedTakes(
        Session session, List<TakeInspection> takes, double sampleRate, double fromHz, double toHz, int pivot) {
    /** Highest frequency that is used, as a share of the sample rate. */
    static final double HIGHEST_SHARE = 0.46;

    /**
     * Takes of one sample rate, counted from the one with the smallest load conductance: it has the most signal.
     *
     * @param takes all takes of the session, one or more
     * @param fromHz lowest frequency in hertz
     * @param toHz highest frequency asked for, in hertz
     */
    static ComparedTakes of(Session session, List<TakeInspection> takes, double fromHz, double toHz) {
        double rate = takes.get(0).indicators().sampleRate();
        int loudest = IntStream.range(0, takes.size())
                .boxed()
                .min(Comparator.comparingDouble(k -> takes.get(k).take().load().conductance()))
                .orElseThrow();
        return new ComparedTakes(session, takes, rate, fromHz, Math.min(toHz, HIGHEST_SHARE * rate), loudest);
    }

    /**
     * Some of them, counted from the same take.
     *
     * @param kept places of takes among these, ascending
     */
    ComparedTakes only(int[] kept) {
        int at = Arrays.binarySearch(kept, pivot);
        return new ComparedTakes(
                session, Arrays.stream(kept).mapToObj(takes::get).toList(), sampleRate, fromHz, toHz, Math.max(0, at));
    }

    /** The same takes with what they hold. */
    TakeSet holding(BinObservations bins) {
        return TakeSet.of(session.takes(), entries(), session.input(), bins);
    }

    /** Number of takes. */
    int size() {
        return takes.size();
    }

    /** The takes as the observers read them. */
    List<TakeRecording> recordings() {
        return takes.stream().map(TakeInspection::recording).toList();
    }

    /**
     * Their spectra.
     *
     * @param stimulus what they are to be divided by, or null
     */
    TakeSpectra whole(@Nullable StimulusObserver stimulus) throws IOException {
        return TakeSpectra.of(recordings(), sampleRate, stimulus == null ? 0 : stimulus.length());
    }

    /** Their entries in the session. */
    List<Take> entries() {
        return takes.stream().map(TakeInspection::take).toList();
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
