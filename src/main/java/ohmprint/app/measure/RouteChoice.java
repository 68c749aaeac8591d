package ohmprint.app.measure;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.stream.IntStream;
import ohmprint.app.BadInputException;
import ohmprint.audiofile.AudioFiles;
import ohmprint.dsp.PhaseTransform.CircularLag;
import ohmprint.dsp.SampleSource;
import ohmprint.dsp.Samples;
import ohmprint.estimation.Alignment;
import ohmprint.estimation.Playback;
import ohmprint.estimation.StimulusObserver;
import ohmprint.estimation.StimulusPattern;
import ohmprint.estimation.TakeSpectra;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.impedance.Route;
import ohmprint.session.Session;
import ohmprint.session.StimulusKind;
import org.jspecify.annotations.Nullable;

/**
 * Decides by the evidence what the takes are compared with, and reads them that way.
 *
 * <p>With a reference channel in every take it is the reference; if all takes hold the same sound besides, the reference
 * only serves to take out the drift of the source. Otherwise a stimulus file that is found in the takes; otherwise the
 * takes themselves if they are coherent; otherwise their powers.
 */
final class RouteChoice {
    private final Session session;
    private final ComparedTakes compared;
    private final List<Finding> findings = new ArrayList<>();
    private @Nullable StimulusPattern pattern;

    RouteChoice(Session session, List<TakeInspection> takes, double fromHz, double toHz) {
        this.session = session;
        this.compared = ComparedTakes.of(session, takes, fromHz, toHz);
    }

    /**
     * Observes the takes along the forced route, or along the one that the evidence allows.
     *
     * @throws BadInputException if the forced route lacks what it needs
     */
    AlignedSpectra observe(@Nullable Route forced) throws IOException, BadInputException {
        if (forced != null) {
            return forced(forced);
        }
        if (allHaveReference()) {
            return reference("every take has a reference channel");
        }
        StimulusPattern file = compared.fit(TakeSpectra.LONGEST) ? pattern() : null;
        Playback playback = file == null ? null : playback(file);
        if (playback != null) {
            return reader().played(playback, stimulusName() + " is found in the takes");
        }
        StimulusObserver stimulus = file == null ? null : observer(file);
        TakeSpectra whole = stimulus != null || compared.fit(TakeSpectra.MODERATE) ? compared.whole(stimulus) : null;
        CompletableFuture<@Nullable CircularLag> located = stimulus == null || whole == null
                ? CompletableFuture.completedFuture(null)
                : CompletableFuture.supplyAsync(() -> stimulus.locate(whole, compared.pivot()));
        Alignment alignment = reader().alignment(whole);
        int[] same = Arrays.stream(all()).filter(alignment::found).toArray();
        CircularLag at = located.join();
        if (stimulus != null && whole != null && at != null && same.length > 1) {
            if (at.prominence() > CircularLag.STIMULUS_FOUND) {
                return reader().stimulus(
                                stimulus, whole, alignment, same, at, stimulusName() + " is found in the takes");
            }
            findings.add(Wording.ANOTHER_STIMULUS.of(compared.file(compared.pivot()), stimulusName()));
        }
        if (stimulus != null && same.length < 2) {
            findings.add(Wording.NO_COMMON_STIMULUS.of(null, stimulusName()));
        }
        AlignedSpectra common = same.length < 2 ? null : reader().common(alignment, same, whyCommon(stimulus));
        return common != null
                ? common
                : reader().power("the takes do not hold the same sound and have no reference channel");
    }

    private String whyCommon(@Nullable StimulusObserver stimulus) {
        if (session.stimulusPath().isEmpty()) {
            return "no stimulus file is at hand, and the takes are coherent";
        }
        return stimulus == null
                ? "the takes are too long to be divided by their stimulus in one piece, and they are coherent"
                : "the takes are coherent with each other, though not with the stimulus file";
    }

    private AlignedSpectra forced(Route route) throws IOException, BadInputException {
        String reason = "asked for";
        return switch (route) {
            case REFERENCE -> {
                if (!allHaveReference()) {
                    throw new BadInputException("the route 'reference' needs reference_channel in every take of "
                            + Session.MANIFEST + "; add it or take another route");
                }
                yield reference(reason);
            }
            case STIMULUS -> forcedStimulus(reason);
            case COMMON -> {
                AlignedSpectra common = reader().common(reader().alignment(null), all(), reason);
                if (common == null) {
                    throw new BadInputException(
                            "the takes do not hold the same sound, or share too little of it; the route 'common' cannot be"
                                    + " taken: try --route power");
                }
                yield common;
            }
            case POWER -> reader().power(reason);
        };
    }

    private int[] all() {
        return IntStream.range(0, compared.size()).toArray();
    }

    private boolean allHaveReference() {
        return compared.takes().stream().allMatch(t -> t.reference() != null);
    }

    private AlignedSpectra forcedStimulus(String reason) throws IOException, BadInputException {
        StimulusPattern file = pattern();
        if (file == null) {
            throw new BadInputException("the route 'stimulus' needs stimulus: {file: …} in " + Session.MANIFEST
                    + "; add the file that was played or take another route");
        }
        if (!compared.fit(TakeSpectra.LONGEST)) {
            throw new BadInputException("the takes are longer than " + TakeSpectra.LONGEST
                    + " samples, too long for the route 'stimulus'; take another route or cut them");
        }
        Playback playback = playback(file);
        if (playback != null) {
            return reader().played(playback, reason);
        }
        StimulusObserver stimulus = observer(file);
        TakeSpectra whole = compared.whole(stimulus);
        return reader().stimulus(
                        stimulus,
                        whole,
                        reader().alignment(whole),
                        all(),
                        stimulus.locate(whole, compared.pivot()),
                        reason);
    }

    private String stimulusName() {
        return session.stimulusPath().map(p -> String.valueOf(p.getFileName())).orElse("the stimulus");
    }

    private AlignedSpectra reference(String reason) throws IOException {
        StimulusPattern file = compared.fit(TakeSpectra.MODERATE) ? pattern() : null;
        return reader().reference(file == null ? null : observer(file), reason);
    }

    private StimulusObserver observer(StimulusPattern file) {
        return new StimulusObserver(file.samples(), compared.sampleRate(), compared.fromHz(), compared.toHz());
    }

    /** The stimulus file; null when there is none or it is too long to divide by. */
    private @Nullable StimulusPattern pattern() throws IOException {
        if (pattern == null && session.stimulusPath().isPresent()) {
            try (SampleSource source = AudioFiles.open(session.stimulusPath().get())) {
                pattern = source.frames() > TakeSpectra.LONGEST
                        ? null
                        : StimulusPattern.of(Samples.channel(source, 0, TakeSpectra.LONGEST));
            }
        }
        return pattern;
    }

    private boolean isNoise() {
        return session.stimulus() != null && session.stimulus().kind() == StimulusKind.NOISE;
    }

    /** Takes of a repeated sound or on two clocks; null when they are plain. */
    private @Nullable Playback playback(StimulusPattern file) throws IOException {
        boolean[] noKnownNoise = new boolean[compared.size()];
        for (int k = 0; k < noKnownNoise.length; k++) {
            noKnownNoise[k] = compared.takes().get(k).floor() == null;
        }
        return Playback.of(
                new Playback.Bench(
                        compared.recordings(),
                        noKnownNoise,
                        compared.pivot(),
                        compared.sampleRate(),
                        compared.fromHz(),
                        compared.toHz()),
                file,
                isNoise());
    }

    private RouteReader reader() {
        return new RouteReader(compared, isNoise() ? null : pattern, findings);
    }
}
