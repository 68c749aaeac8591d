package ohmprint.app;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode;
import ohmprint.curve.Route;
import ohmprint.estimate.Alignment;
import ohmprint.estimate.BinObservations;
import ohmprint.estimate.CommonObserver;
import ohmprint.estimate.PowerObserver;
import ohmprint.estimate.ReferenceObserver;
import ohmprint.estimate.SourceDrift;
import ohmprint.estimate.StimulusObserver;
import ohmprint.estimate.TakeCoherence;
import ohmprint.estimate.TakeRecording;
import ohmprint.estimate.TimingCheck;
import ohmprint.session.Session;
import ohmprint.signal.LagSearch;
import ohmprint.signal.SampleSource;
import ohmprint.signal.Samples;
import ohmprint.wav.AudioFiles;
import org.jspecify.annotations.Nullable;

/**
 * Decides by the evidence what the takes are compared with, and reads them that way.
 *
 * <p>With a reference channel in every take it is the reference; if all takes hold the same sound besides, the reference
 * only serves to take out the drift of the source. Otherwise a stimulus file that is found in the takes; otherwise the
 * takes themselves if they are coherent; otherwise their powers.
 */
final class RouteChoice {
    /** Beyond this length a reference channel is averaged within each take instead of comparing takes, seconds. */
    private static final double LONG_TAKE_SECONDS = 60;
    /** Longest take that is divided by its stimulus in one piece, seconds. */
    private static final double ONE_PIECE_SECONDS = 120;

    private static final double TIMING_FROM_HZ = 60;
    private static final double TIMING_TO_HZ = 15_000;
    /** Highest frequency that is used, as a share of the sample rate. */
    static final double HIGHEST_SHARE = 0.46;

    private final Session session;
    private final List<TakeInspection> takes;
    private final List<TakeRecording> recordings;
    private final double sampleRate;
    private final double fromHz;
    private final double toHz;
    private final int pivot;
    private final List<Finding> findings = new ArrayList<>();

    RouteChoice(Session session, List<TakeInspection> takes, double fromHz, double toHz) {
        this.session = session;
        this.takes = takes;
        this.recordings = takes.stream().map(TakeInspection::recording).toList();
        this.sampleRate = takes.get(0).indicators().sampleRate();
        this.fromHz = fromHz;
        this.toHz = Math.min(toHz, HIGHEST_SHARE * sampleRate);
        this.pivot = loudest();
    }

    /** The take with the smallest load conductance: the one with the most signal. */
    private int loudest() {
        return IntStream.range(0, takes.size())
                .boxed()
                .min((a, b) -> Double.compare(conductance(a), conductance(b)))
                .orElseThrow();
    }

    private double conductance(int k) {
        return takes.get(k).take().load().conductance();
    }

    /**
     * Observes the takes along the forced route, or along the one that the evidence allows.
     *
     * @throws BadInputException if the forced route lacks what it needs
     */
    Observation observe(@Nullable Route forced) throws IOException, BadInputException {
        if (forced != null) {
            return forced(forced);
        }
        if (allHaveReference()) {
            return reference("every take has a reference channel");
        }
        Alignment alignment = Alignment.of(recordings, pivot);
        int[] same = sameSound(alignment);
        Observation byStimulus = session.stimulusPath().isPresent() ? stimulus(alignment, same) : null;
        if (byStimulus != null) {
            return byStimulus;
        }
        Observation common = same.length < 2
                ? null
                : common(alignment, same, "no stimulus file is at hand, and the takes are coherent");
        return common != null ? common : power("the takes do not hold the same sound and have no reference channel");
    }

    private Observation forced(Route route) throws IOException, BadInputException {
        String reason = "asked for";
        switch (route) {
            case REFERENCE -> {
                if (!allHaveReference()) {
                    throw new BadInputException("the route 'reference' needs reference_channel in every take of "
                            + Session.MANIFEST + "; add it or take another route");
                }
                return reference(reason);
            }
            case STIMULUS -> {
                Path file = session.stimulusPath()
                        .orElseThrow(() -> new BadInputException("the route 'stimulus' needs stimulus: {file: …} in "
                                + Session.MANIFEST + "; add the file that was played or take another route"));
                Alignment alignment = Alignment.of(recordings, pivot);
                int[] all = IntStream.range(0, takes.size()).toArray();
                return stimulusAt(file, alignment, all, locate(file), reason);
            }
            case COMMON -> {
                int[] all = IntStream.range(0, takes.size()).toArray();
                Observation common = common(Alignment.of(recordings, pivot), all, reason);
                if (common == null) {
                    throw new BadInputException(
                            "the takes share no stretch of time; the route 'common' cannot be taken");
                }
                return common;
            }
            case POWER -> {
                return power(reason);
            }
        }
        throw new IllegalStateException(route.toString());
    }

    private boolean allHaveReference() {
        return takes.stream().allMatch(t -> t.reference() != null);
    }

    /** Takes whose sound was found in the pivot's, the pivot among them. */
    private int[] sameSound(Alignment alignment) {
        return IntStream.range(0, takes.size()).filter(alignment::found).toArray();
    }

    private LagSearch locate(Path stimulus) throws IOException {
        return observer(stimulus).locate(recordings.get(pivot));
    }

    private StimulusObserver observer(Path stimulus) throws IOException {
        try (SampleSource source = AudioFiles.open(stimulus)) {
            return new StimulusObserver(Samples.channel(source, 0, Integer.MAX_VALUE), sampleRate, fromHz, toHz);
        }
    }

    private @Nullable Observation stimulus(Alignment alignment, int[] same) throws IOException {
        Path file = session.stimulusPath().orElseThrow();
        LagSearch at = locate(file);
        if (at.prominence() <= LagSearch.SIGNIFICANT) {
            findings.add(new Finding(
                    FindingCode.NOT_COHERENT,
                    takes.get(pivot).take().file(),
                    file.getFileName() + " is not what this take holds; name the file that was played, or none"));
            return null;
        }
        if (same.length < 2) {
            return null;
        }
        if (longest() > ONE_PIECE_SECONDS * sampleRate) {
            return null;
        }
        Observation o = stimulusAt(file, alignment, same, at, file.getFileName() + " is found in the takes");
        return o;
    }

    private Observation stimulusAt(Path file, Alignment alignment, int[] kept, LagSearch at, String reason)
            throws IOException {
        StimulusObserver observer = observer(file);
        long[] starts = Arrays.stream(kept)
                .mapToLong(k -> at.frames() + alignment.lags()[k])
                .toArray();
        return aligned(Route.STIMULUS, reason, observer.observe(only(kept), starts), kept, alignment, null);
    }

    private long longest() {
        return takes.stream().mapToLong(t -> t.indicators().frames()).max().orElse(0);
    }

    private @Nullable Observation common(Alignment alignment, int[] kept, String reason) throws IOException {
        long[] lags = Arrays.stream(kept).mapToLong(k -> alignment.lags()[k]).toArray();
        BinObservations bins = new CommonObserver(fromHz, toHz).observe(only(kept), lags);
        int at = indexOf(kept, pivot);
        int[] coherent = IntStream.range(0, kept.length)
                .filter(k -> TakeCoherence.median(bins, k, at) > TakeCoherence.COHERENT)
                .toArray();
        if (coherent.length < 2) {
            return null;
        }
        int[] used = Arrays.stream(coherent).map(k -> kept[k]).toArray();
        return aligned(Route.COMMON, reason, bins.only(coherent), used, alignment, null);
    }

    private Observation power(String reason) throws IOException, BadInputException {
        int[] all = IntStream.range(0, takes.size()).toArray();
        try {
            BinObservations bins = new PowerObserver(fromHz, toHz).observe(recordings);
            return new Observation(
                    Route.POWER, reason, bins, all, nan(takes.size()), nan(takes.size()), 0, List.copyOf(findings));
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private Observation reference(String reason) throws IOException {
        int[] all = IntStream.range(0, takes.size()).toArray();
        if (longest() <= LONG_TAKE_SECONDS * sampleRate) {
            Alignment alignment = Alignment.of(recordings, pivot);
            if (sameSound(alignment).length == takes.size()) {
                Observation same = referenceSameSound(alignment, all, reason);
                if (same != null) {
                    return same;
                }
            }
        }
        ReferenceObserver.Observed seen = new ReferenceObserver(fromHz, toHz).observe(recordings);
        for (int k = 0; k < takes.size(); k++) {
            if (seen.coherence()[k] < TakeCoherence.COHERENT) {
                findings.add(new Finding(
                        FindingCode.NOT_COHERENT,
                        takes.get(k).take().file(),
                        String.format(
                                Locale.ROOT,
                                "microphone and reference channel share little (median coherence %.2f); check that both"
                                        + " hear the loudspeaker",
                                seen.coherence()[k])));
            }
        }
        double[] drift = Arrays.stream(seen.referenceLevel())
                .map(p -> 10 * Math.log10(p / seen.referenceLevel()[0]))
                .toArray();
        return new Observation(
                Route.REFERENCE, reason, seen.bins(), all, nan(takes.size()), drift, 0, List.copyOf(findings));
    }

    /** The reference takes out the drift of the source; the takes are compared with each other, without its room notches. */
    private @Nullable Observation referenceSameSound(Alignment alignment, int[] all, String reason) throws IOException {
        CommonObserver observer = new CommonObserver(fromHz, toHz);
        BinObservations microphone = observer.observe(recordings, alignment.lags());
        for (int k = 0; k < takes.size(); k++) {
            if (TakeCoherence.median(microphone, k, pivot) <= TakeCoherence.COHERENT) {
                return null;
            }
        }
        List<TakeRecording> references =
                recordings.stream().map(TakeRecording::throughReference).toList();
        SourceDrift drift = SourceDrift.of(observer.observe(references, alignment.lags()), pivot);
        return aligned(Route.REFERENCE, reason + ", and all hold the same sound", microphone, all, alignment, drift);
    }

    private Observation aligned(
            Route route,
            String reason,
            BinObservations bins,
            int[] kept,
            Alignment alignment,
            @Nullable SourceDrift drift) {
        TimingCheck timing = TimingCheck.of(
                bins, indexOf(kept, pivot), sampleRate, Math.max(fromHz, TIMING_FROM_HZ), Math.min(toHz, TIMING_TO_HZ));
        BinObservations advanced = bins.advanced(timing.seconds());
        double[] delays = nan(takes.size());
        double uncertainty = 0;
        for (int k = 0; k < kept.length; k++) {
            delays[kept[k]] = alignment.lags()[kept[k]] + timing.seconds()[k] * sampleRate;
            uncertainty = Math.max(uncertainty, timing.uncertainty()[k]);
            if (timing.isFraction(k)) {
                findings.add(fraction(kept[k], timing, k));
            }
        }
        noteLeftOut(kept);
        BinObservations out = drift == null ? advanced : advanced.dividedBy(drift.gainRe(), drift.gainIm());
        double[] driftDb = drift == null ? nan(takes.size()) : drift.driftDb();
        return new Observation(route, reason, out, kept, delays, driftDb, uncertainty, List.copyOf(findings));
    }

    private Finding fraction(int take, TimingCheck timing, int k) {
        return new Finding(
                FindingCode.TIMING,
                takes.get(take).take().file(),
                String.format(
                        Locale.ROOT,
                        "its delay is %.3f ± %.3f samples off a whole number, so playback and recording did not share one"
                                + " clock; the phase at high frequencies is uncertain: play and record with one interface",
                        timing.estimates()[k].seconds() * sampleRate
                                - Math.rint(timing.estimates()[k].seconds() * sampleRate),
                        2 * timing.estimates()[k].standardUncertainty() * sampleRate));
    }

    private void noteLeftOut(int[] kept) {
        for (int k = 0; k < takes.size(); k++) {
            if (indexOf(kept, k) < 0) {
                findings.add(new Finding(
                        FindingCode.NOT_COHERENT,
                        takes.get(k).take().file(),
                        "does not hold the sound of the other takes and is left out; record it again with the same"
                                + " sound"));
            }
        }
    }

    private List<TakeRecording> only(int[] kept) {
        return Arrays.stream(kept).mapToObj(recordings::get).toList();
    }

    private static int indexOf(int[] values, int wanted) {
        return IntStream.range(0, values.length)
                .filter(i -> values[i] == wanted)
                .findFirst()
                .orElse(-1);
    }

    private static double[] nan(int n) {
        double[] out = new double[n];
        Arrays.fill(out, Double.NaN);
        return out;
    }
}
