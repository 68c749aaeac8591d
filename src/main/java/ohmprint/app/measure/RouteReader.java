package ohmprint.app.measure;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.AlignedSpectra.Figures;
import ohmprint.dsp.ClockSkew;
import ohmprint.dsp.PhaseTransform.CircularLag;
import ohmprint.estimation.Alignment;
import ohmprint.estimation.BinObservations;
import ohmprint.estimation.CommonObserver;
import ohmprint.estimation.NoiseByScatter;
import ohmprint.estimation.Playback;
import ohmprint.estimation.PowerObserver;
import ohmprint.estimation.ReferenceObserver;
import ohmprint.estimation.SourceDrift;
import ohmprint.estimation.StimulusObserver;
import ohmprint.estimation.StimulusPattern;
import ohmprint.estimation.TakeRecording;
import ohmprint.estimation.TakeSpectra;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.impedance.Route;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/** Reads the takes along one route: alignment, spectra, residual delay, drift of the source, and what was noticed. */
final class RouteReader {
    /** Shortest stretch in common from which takes are compared, seconds. */
    private static final double LEAST_SHARED_SECONDS = 0.3;
    /** Loss of level by saturation against the least distorted take that counts, dB. */
    private static final double LEAST_LOSS_DB = 0.05;

    private final ComparedTakes all;
    private final @Nullable StimulusPattern sweep;
    private final List<Finding> findings;

    /**
     * A reader of these takes; what it notices comes after what is in {@code findings}, in a list of its own.
     *
     * @param all the takes of the session
     * @param sweep the stimulus if it is a sweep that is at hand
     */
    RouteReader(ComparedTakes all, @Nullable StimulusPattern sweep, List<Finding> findings) {
        this.all = all;
        this.sweep = sweep;
        this.findings = new ArrayList<>(findings);
    }

    /**
     * Takes divided by the stimulus.
     *
     * @param whole spectra of all takes
     * @param alignment where each of them lies
     * @param held places of the takes that hold the sound
     * @param at where the sound begins in the pivot
     * @param reason why the route was taken
     */
    AlignedSpectra stimulus(
            StimulusObserver observer,
            TakeSpectra whole,
            Alignment alignment,
            int[] held,
            CircularLag at,
            String reason) {
        ComparedTakes takes = all.only(held);
        long[] lags = lags(alignment, held);
        StimulusObserver.Observed seen = observer.observe(whole.only(held), starts(at, lags));
        noteSaturation(takes, seen.thirdHarmonic());
        noiseByScatter(takes, seen.bins());
        return aligned(Route.STIMULUS, reason, takes, lags, seen.bins(), null, null);
    }

    /** Takes of a repeated sound, or on two clocks. */
    AlignedSpectra played(Playback playback, String reason) {
        ComparedTakes takes = all.only(playback.kept());
        String how = playback.isSummed() ? reason + ", " + periods(playback.periods()) + " are averaged" : reason;
        BinObservations bins = playback.observe();
        if (!playback.isSummed()) {
            noiseByScatter(takes, bins);
        }
        ClockSkew[] every = playback.clocks();
        ClockSkew[] clocks = every == null
                ? null
                : Arrays.stream(playback.kept()).mapToObj(k -> every[k]).toArray(ClockSkew[]::new);
        return aligned(Route.STIMULUS, how, takes, lags(playback.alignment(), playback.kept()), bins, null, clocks);
    }

    private static String periods(int[] periods) {
        int least = Arrays.stream(periods).min().orElse(0);
        int most = Arrays.stream(periods).max().orElse(0);
        return (least == most ? "" : least + " to ") + most + (most == 1 ? " period" : " periods") + " of it in each";
    }

    /** Position of the takes: by whole spectra when they are at hand or the takes are short, else by streaming. */
    Alignment alignment(@Nullable TakeSpectra whole) throws IOException {
        if (whole == null && !all.fit(TakeSpectra.MODERATE)) {
            return Alignment.of(all.recordings(), all.pivot());
        }
        return (whole == null ? all.whole(null) : whole).align(all.pivot());
    }

    /**
     * Takes compared with each other.
     *
     * @param alignment where each take lies
     * @param held places of the takes that seem to hold the same sound
     * @return null when they share too little
     */
    @Nullable
    AlignedSpectra common(Alignment alignment, int[] held, String reason) throws IOException {
        ComparedTakes takes = all.only(held);
        long[] lags = lags(alignment, held);
        if (sharedFrames(takes, lags) < LEAST_SHARED_SECONDS * all.sampleRate()) {
            return null;
        }
        BinObservations bins = new CommonObserver(all.fromHz(), all.toHz()).observe(takes.recordings(), lags);
        int[] coherent = IntStream.range(0, takes.size())
                .filter(k -> bins.coherence(k, takes.pivot()) > BinObservations.COHERENT)
                .toArray();
        if (coherent.length < 2) {
            return null;
        }
        ComparedTakes same = takes.only(coherent);
        BinObservations sameBins = bins.only(coherent);
        noiseByScatter(same, sameBins);
        long[] sameLags = Arrays.stream(coherent).mapToLong(k -> lags[k]).toArray();
        return aligned(Route.COMMON, reason, same, sameLags, sameBins, null, null);
    }

    /** Length of the stretch that all these takes hold once aligned, frames. */
    private static long sharedFrames(ComparedTakes takes, long[] lags) {
        long from = Long.MIN_VALUE;
        long to = Long.MAX_VALUE;
        for (int k = 0; k < lags.length; k++) {
            from = Math.max(from, -lags[k]);
            to = Math.min(to, takes.takes().get(k).indicators().frames() - lags[k]);
        }
        return to - from;
    }

    /** Takes of which only the power is compared. */
    AlignedSpectra power(String reason) throws BadInputException, IOException {
        try {
            BinObservations bins = new PowerObserver(all.fromHz(), all.toHz()).observe(all.recordings());
            return unaligned(Route.POWER, reason, bins, new IdentityHashMap<>());
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    /**
     * Along the reference channels, which hear the source but not the load. Takes of moderate length that hold the same sound are
     * compared with each other, the reference serving to take out the source's drift; otherwise it is averaged within each take.
     *
     * @param stimulus looks for the stimulus where it is at hand
     * @param reason why the route was taken
     */
    AlignedSpectra reference(@Nullable StimulusObserver stimulus, String reason) throws IOException {
        if (all.fit(TakeSpectra.MODERATE)) {
            TakeSpectra whole = all.whole(stimulus);
            Alignment alignment = whole.align(all.pivot());
            if (IntStream.range(0, all.size()).allMatch(alignment::found)) {
                AlignedSpectra same = sameSound(stimulus, whole, alignment.lags(), reason);
                if (same != null) {
                    return same;
                }
            }
        }
        ReferenceObserver.Observed seen = new ReferenceObserver(all.fromHz(), all.toHz()).observe(all.recordings());
        IdentityHashMap<Take, Figures> figures = new IdentityHashMap<>();
        for (int k = 0; k < all.size(); k++) {
            if (seen.coherence()[k] < BinObservations.COHERENT) {
                findings.add(Wording.ANOTHER_REFERENCE.of(all.file(k), seen.coherence()[k]));
            }
            double drift = 10 * Math.log10(seen.referenceLevel()[k] / seen.referenceLevel()[0]);
            figures.put(all.takes().get(k).take(), new Figures(Double.NaN, drift, Double.NaN));
        }
        return unaligned(Route.REFERENCE, reason, seen.bins(), figures);
    }

    /** The reference takes out the drift of the source; the takes are compared with each other, without its room notches. */
    private @Nullable AlignedSpectra sameSound(
            @Nullable StimulusObserver stimulus, TakeSpectra whole, long[] lags, String reason) throws IOException {
        List<TakeRecording> references =
                all.recordings().stream().map(TakeRecording::throughReference).toList();
        CircularLag at = stimulus == null ? null : stimulus.locate(whole, all.pivot());
        BinObservations microphone;
        BinObservations heard;
        if (stimulus != null && at != null && at.prominence() > CircularLag.STIMULUS_FOUND) {
            long[] starts = starts(at, lags);
            StimulusObserver.Observed seen = stimulus.observe(whole, starts);
            noteSaturation(all, seen.thirdHarmonic());
            microphone = seen.bins();
            heard = stimulus.observe(TakeSpectra.of(references, all.sampleRate(), stimulus.length()), starts)
                    .bins();
        } else {
            CommonObserver observer = new CommonObserver(all.fromHz(), all.toHz());
            microphone = observer.observe(all.recordings(), lags);
            heard = observer.observe(references, lags);
        }
        for (int k = 0; k < all.size(); k++) {
            if (microphone.coherence(k, all.pivot()) <= BinObservations.COHERENT) {
                return null;
            }
        }
        return aligned(Route.REFERENCE, reason + ", and all hold the same sound", all, lags, microphone, heard, null);
    }

    private static long[] lags(Alignment alignment, int[] held) {
        return Arrays.stream(held).mapToLong(k -> alignment.lags()[k]).toArray();
    }

    /** Frames at which the stimulus begins in takes that lie so far behind the pivot. */
    private long[] starts(CircularLag at, long[] lags) {
        long start = at.nearest(all.recordings().get(all.pivot()).soundStart());
        return Arrays.stream(lags).map(lag -> start + lag).toArray();
    }

    /** Takes without silence show their noise by the scatter of neighbouring bins against another take. */
    private static void noiseByScatter(ComparedTakes takes, BinObservations bins) {
        boolean[] unknown = new boolean[takes.size()];
        boolean any = false;
        for (int k = 0; k < unknown.length; k++) {
            unknown[k] = !takes.takes().get(k).isNoiseKnown();
            any |= unknown[k];
        }
        if (any) {
            NoiseByScatter.into(bins, unknown, takes.pivot());
        }
    }

    /**
     * Notes takes that are driven into curvature further than others, seen by the third harmonic of a sweep: what the loudspeaker
     * distorts is in all takes alike and harmless; what microphone or preamplifier distort grows with the level of the take, and
     * the fundamental loses three times as much as the third harmonic holds.
     *
     * @param third third harmonic of each over its fundamental; empty when it is not known
     */
    private void noteSaturation(ComparedTakes takes, double[] third) {
        double least = Arrays.stream(third).min().orElse(0);
        for (int k = 0; k < third.length; k++) {
            double loss = -20 * Math.log10(1 - Math.min(0.3, 3 * (third[k] - least)));
            if (loss >= LEAST_LOSS_DB) {
                findings.add(Wording.SATURATED.of(takes.file(k), 100 * third[k], 100 * least, loss));
            }
        }
    }

    /**
     * What takes hold once they lie at the same place: the residual delay and the source's drift are taken out.
     *
     * @param reason why the route was taken
     * @param lags where each lies behind the pivot, samples
     * @param bins what they hold, aligned to whole samples
     * @param reference what the reference channels hold, or null without one
     * @param clocks rate of each take against the others where it was looked at, or null
     */
    private AlignedSpectra aligned(
            Route route,
            String reason,
            ComparedTakes takes,
            long[] lags,
            BinObservations bins,
            @Nullable BinObservations reference,
            ClockSkew @Nullable [] clocks) {
        StimulusPattern passed = clocks != null || reference != null ? null : sweep;
        TakeDelays delays = TakeDelays.of(
                takes.holding(bins),
                takes,
                clocks == null,
                passed == null ? null : () -> passed.passing(all.sampleRate()));
        findings.addAll(delays.findings(takes, clocks));
        noteLeftOut(takes);
        SourceDrift drift = reference == null ? null : SourceDrift.of(reference.advanced(delays::at), takes.pivot());
        IdentityHashMap<Take, Figures> figures = new IdentityHashMap<>();
        for (int k = 0; k < takes.size(); k++) {
            figures.put(
                    takes.takes().get(k).take(),
                    new Figures(
                            lags[k] + delays.seconds()[k] * all.sampleRate(),
                            drift == null ? Double.NaN : drift.driftDb()[k],
                            clocks == null ? Double.NaN : clocks[k].ppm()));
        }
        return new AlignedSpectra(
                route,
                reason,
                takes.holding(drift == null ? delays.cells() : delays.cells(drift)),
                figures,
                delays.largestUncertainty(),
                delays.largestUncertainty() * all.sampleRate() < TakeDelays.UNTIMED_SAMPLES,
                List.copyOf(findings));
    }

    private void noteLeftOut(ComparedTakes takes) {
        // Two takes whose entries say the same are two takes.
        Set<TakeInspection> held = Collections.newSetFromMap(new IdentityHashMap<>());
        held.addAll(takes.takes());
        for (TakeInspection take : all.takes()) {
            if (!held.contains(take)) {
                findings.add(Wording.ANOTHER_SOUND.of(take.take().file()));
            }
        }
    }

    /** All takes, where their delays do not matter. */
    private AlignedSpectra unaligned(
            Route route, String reason, BinObservations bins, IdentityHashMap<Take, Figures> figures) {
        return new AlignedSpectra(route, reason, all.holding(bins), figures, 0, true, List.copyOf(findings));
    }
}
