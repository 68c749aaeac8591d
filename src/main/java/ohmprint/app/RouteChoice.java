package ohmprint.app;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode;
import ohmprint.curve.Route;
import ohmprint.estimate.Alignment;
import ohmprint.estimate.StimulusObserver;
import ohmprint.estimate.TakeRecording;
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
    /** Longest take that is divided by its stimulus in one piece, seconds. */
    private static final double ONE_PIECE_SECONDS = 120;

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
            return reader().reference("every take has a reference channel");
        }
        Alignment alignment = Alignment.of(recordings, pivot);
        int[] same = sameSound(alignment);
        Observation byStimulus = session.stimulusPath().isPresent() ? stimulus(alignment, same) : null;
        if (byStimulus != null) {
            return byStimulus;
        }
        Observation common = same.length < 2
                ? null
                : reader().common(alignment, same, "no stimulus file is at hand, and the takes are coherent");
        return common != null
                ? common
                : reader().power("the takes do not hold the same sound and have no reference channel");
    }

    private Observation forced(Route route) throws IOException, BadInputException {
        String reason = "asked for";
        switch (route) {
            case REFERENCE -> {
                if (!allHaveReference()) {
                    throw new BadInputException("the route 'reference' needs reference_channel in every take of "
                            + Session.MANIFEST + "; add it or take another route");
                }
                return reader().reference(reason);
            }
            case STIMULUS -> {
                Path file = session.stimulusPath()
                        .orElseThrow(() -> new BadInputException("the route 'stimulus' needs stimulus: {file: …} in "
                                + Session.MANIFEST + "; add the file that was played or take another route"));
                Alignment alignment = Alignment.of(recordings, pivot);
                int[] all = IntStream.range(0, takes.size()).toArray();
                return reader().stimulus(observer(file), alignment, all, locate(file), reason);
            }
            case COMMON -> {
                int[] all = IntStream.range(0, takes.size()).toArray();
                Observation common = reader().common(Alignment.of(recordings, pivot), all, reason);
                if (common == null) {
                    throw new BadInputException(
                            "the takes share no stretch of time; the route 'common' cannot be taken");
                }
                return common;
            }
            case POWER -> {
                return reader().power(reason);
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

    private RouteReader reader() {
        return new RouteReader(takes, pivot, fromHz, toHz, findings);
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
        return reader().stimulus(observer(file), alignment, same, at, file.getFileName() + " is found in the takes");
    }

    private long longest() {
        return takes.stream().mapToLong(t -> t.indicators().frames()).max().orElse(0);
    }
}
