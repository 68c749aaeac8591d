package ohmprint.app.measure;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.app.BadInputException;
import ohmprint.curve.Finding;
import ohmprint.curve.Route;
import ohmprint.estimate.Alignment;
import ohmprint.estimate.BinObservations;
import ohmprint.estimate.CommonObserver;
import ohmprint.estimate.LoadedTakes;
import ohmprint.estimate.NoiseByScatter;
import ohmprint.estimate.Playback;
import ohmprint.estimate.PowerObserver;
import ohmprint.estimate.StimulusObserver;
import ohmprint.estimate.StimulusPattern;
import ohmprint.estimate.TakeCoherence;
import ohmprint.estimate.TakeRecording;
import ohmprint.estimate.WholeTakes;
import ohmprint.session.Take;
import ohmprint.signal.PhaseTransform.CircularLag;
import org.jspecify.annotations.Nullable;

/** Reads the takes along one route: alignment, spectra, residual delay, drift of the source, and what was noticed. */
final class RouteReader {
    /** Shortest stretch in common from which takes are compared, seconds. */
    private static final double LEAST_SHARED_SECONDS = 0.3;

    private final ComparedTakes compared;
    private final List<Finding> findings;
    private final AlignedTakes aligned;

    /**
     * A reader of these takes; what it notices comes after what is in {@code findings}, in a list of its own.
     *
     * @param compared the takes
     * @param loads what each of them drives
     * @param sweep the stimulus if it is a sweep that is at hand
     */
    RouteReader(ComparedTakes compared, LoadedTakes loads, @Nullable StimulusPattern sweep, List<Finding> findings) {
        this.compared = compared;
        this.findings = new ArrayList<>(findings);
        this.aligned = new AlignedTakes(compared, loads, sweep, this.findings);
    }

    Observation stimulus(
            StimulusObserver observer,
            WholeTakes whole,
            Alignment alignment,
            int[] kept,
            CircularLag at,
            String reason) {
        long onset = compared.recordings().get(compared.pivot()).soundStart();
        long start = at.nearest(onset);
        long[] starts =
                Arrays.stream(kept).mapToLong(k -> start + alignment.lags()[k]).toArray();
        WholeTakes used = whole.only(kept);
        List<Take> entries = Arrays.stream(kept)
                .mapToObj(k -> compared.takes().get(k).take())
                .toList();
        StimulusObserver.Observed seen = observer.observe(used, starts);
        findings.addAll(Saturation.findings(entries, seen.thirdHarmonic()));
        noiseByScatter(seen.bins(), kept);
        return aligned.at(Route.STIMULUS, reason, seen.bins(), kept, alignment, null, null);
    }

    /** Takes of a repeated sound, or on two clocks. */
    Observation played(Playback playback, Route route, String reason) {
        int[] kept = playback.kept();
        String how = playback.isSummed() ? reason + ", " + periods(playback.periods()) + " are averaged" : reason;
        BinObservations bins = playback.observe();
        if (!playback.isSummed()) {
            noiseByScatter(bins, kept);
        }
        return aligned.at(route, how, bins, kept, playback.alignment(), null, playback.clocks());
    }

    /** Takes without silence show their noise by the scatter of neighbouring bins against another take. */
    private void noiseByScatter(BinObservations bins, int[] kept) {
        boolean[] unknown = new boolean[kept.length];
        boolean any = false;
        for (int k = 0; k < kept.length; k++) {
            unknown[k] = !compared.takes().get(kept[k]).isNoiseKnown();
            any |= unknown[k];
        }
        if (any) {
            NoiseByScatter.into(bins, unknown, Math.max(0, AlignedTakes.indexOf(kept, compared.pivot())));
        }
    }

    private static String periods(int[] periods) {
        int least = Arrays.stream(periods).min().orElse(0);
        int most = Arrays.stream(periods).max().orElse(0);
        return (least == most ? "" : least + " to ") + most + (most == 1 ? " period" : " periods") + " of it in each";
    }

    /** Position of the takes: by whole spectra when they are at hand or the takes are short, else by streaming. */
    Alignment alignment(@Nullable WholeTakes whole) throws IOException {
        if (whole != null) {
            return whole.align(compared.pivot());
        }
        return compared.fit(WholeTakes.MODERATE)
                ? WholeTakes.of(compared.recordings(), compared.sampleRate(), 0).align(compared.pivot())
                : Alignment.of(compared.recordings(), compared.pivot());
    }

    @Nullable
    Observation common(Alignment alignment, int[] kept, String reason) throws IOException {
        long[] lags = Arrays.stream(kept).mapToLong(k -> alignment.lags()[k]).toArray();
        if (sharedFrames(kept, lags) < LEAST_SHARED_SECONDS * compared.sampleRate()) {
            return null;
        }
        BinObservations bins = new CommonObserver(compared.fromHz(), compared.toHz()).observe(only(kept), lags);
        int at = AlignedTakes.indexOf(kept, compared.pivot());
        int[] coherent = IntStream.range(0, kept.length)
                .filter(k -> TakeCoherence.median(bins, k, at) > TakeCoherence.COHERENT)
                .toArray();
        if (coherent.length < 2) {
            return null;
        }
        int[] used = Arrays.stream(coherent).map(k -> kept[k]).toArray();
        BinObservations same = bins.only(coherent);
        noiseByScatter(same, used);
        return aligned.at(Route.COMMON, reason, same, used, alignment, null, null);
    }

    Observation power(String reason) throws IOException, BadInputException {
        int[] all = IntStream.range(0, compared.size()).toArray();
        try {
            BinObservations bins = new PowerObserver(compared.fromHz(), compared.toHz()).observe(compared.recordings());
            return new Observation(
                    Route.POWER,
                    reason,
                    bins,
                    all,
                    AlignedTakes.unknown(compared.size()),
                    AlignedTakes.unknown(compared.size()),
                    AlignedTakes.unknown(compared.size()),
                    0,
                    true,
                    List.copyOf(findings));
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    /** Along the reference channels, see {@link ReferenceReader#read}. */
    Observation reference(@Nullable StimulusObserver stimulus, String reason) throws IOException {
        return new ReferenceReader(compared, aligned, findings).read(stimulus, reason);
    }

    /** Length of the stretch that all these takes hold once aligned, frames. */
    private long sharedFrames(int[] kept, long[] lags) {
        long from = Long.MIN_VALUE;
        long to = Long.MAX_VALUE;
        for (int k = 0; k < kept.length; k++) {
            from = Math.max(from, -lags[k]);
            to = Math.min(to, compared.takes().get(kept[k]).indicators().frames() - lags[k]);
        }
        return to - from;
    }

    private List<TakeRecording> only(int[] kept) {
        return Arrays.stream(kept).mapToObj(compared.recordings()::get).toList();
    }
}
