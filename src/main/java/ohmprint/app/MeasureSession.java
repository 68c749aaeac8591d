package ohmprint.app;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.CompletableFuture;
import java.util.stream.IntStream;
import ohmprint.circuit.Dual;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.StatedInput;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;
import ohmprint.curve.Provenance;
import ohmprint.curve.Route;
import ohmprint.curve.Usability;
import ohmprint.estimate.BinObservations;
import ohmprint.estimate.CoherentSolver;
import ohmprint.estimate.CurveEstimate;
import ohmprint.estimate.LoadedTakes;
import ohmprint.estimate.Parallel;
import ohmprint.estimate.PowerSolver;
import ohmprint.estimate.Priors;
import ohmprint.estimate.TakeAgreement;
import ohmprint.manifest.ManifestException;
import ohmprint.report.Charts;
import ohmprint.report.LinePlotData;
import ohmprint.session.AudioProbe;
import ohmprint.session.Session;
import ohmprint.session.SessionReader;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/** Measures a session: from a folder of takes to a curve with its uncertainty. */
public final class MeasureSession {
    private static final int POWER_BANDS = 3;
    /** Bins beyond the outermost midbands that the fits may use, as a frequency ratio. */
    private static final double EDGE = 1.08;

    private final MeasureRequest request;
    private final Progress progress;
    private final Session session;
    private final Subject subject;
    private final List<Finding> findings = new ArrayList<>();

    private MeasureSession(MeasureRequest request, Progress progress, Session session, Subject subject) {
        this.request = request;
        this.progress = progress;
        this.session = session;
        this.subject = subject;
    }

    /**
     * Measures.
     *
     * @param request what and how
     * @param progress hears how far it has come
     * @throws BadInputException if manifest, files or request cannot be worked with
     * @throws IOException if a file cannot be read or the results cannot be written
     */
    public static MeasureOutcome run(MeasureRequest request, Progress progress) throws BadInputException, IOException {
        Charts.prepare();
        checkRange(request);
        Session session;
        try {
            session = new SessionReader(TakeFiles.probe()).read(request.session());
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
        return run(session, Subject.MICROPHONE, request, progress);
    }

    /** How audio files are looked at when a manifest is read. */
    public static AudioProbe probe() {
        return TakeFiles.probe();
    }

    /**
     * Measures a session that has been read already.
     *
     * @param session the session
     * @param subject what it measures
     * @param request how; its session is not read
     * @param progress hears how far it has come
     * @throws BadInputException if files or request cannot be worked with
     * @throws IOException if a file cannot be read or the results cannot be written
     */
    public static MeasureOutcome run(Session session, Subject subject, MeasureRequest request, Progress progress)
            throws BadInputException, IOException {
        Charts.prepare();
        checkRange(request);
        Path out = request.out() == null ? session.folder().resolve("result") : request.out();
        ResultFolder.check(out);
        return new MeasureSession(request, progress, session, subject).measure(out);
    }

    private static void checkRange(MeasureRequest request) throws BadInputException {
        try {
            FrequencyBands.within(
                    request.bandsPerOctave() == null
                            ? MeasureRequest.DEFAULT_BANDS_PER_OCTAVE
                            : request.bandsPerOctave(),
                    request.fromHz(),
                    request.toHz());
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    /**
     * What the straight lines of a session are drawn from, in any band; nothing is written.
     *
     * @throws BadInputException if manifest, files or request cannot be worked with
     * @throws IOException if a file cannot be read
     */
    public static Lines lines(MeasureRequest request) throws BadInputException, IOException {
        checkRange(request);
        try {
            Session session = new SessionReader(TakeFiles.probe()).read(request.session());
            return new MeasureSession(request, Progress.SILENT, session, Subject.MICROPHONE).lines();
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private Lines lines() throws IOException, BadInputException {
        Observation seen = observe();
        Solution solution = solve(seen);
        return new Lines(session.microphone().label(), solution.curve(), seen, loads(), solution.leftOut());
    }

    private Observation observe() throws IOException, BadInputException {
        List<TakeInspection> takes =
                List.of(Parallel.map(session.takes(), take -> TakeInspection.of(session, take), TakeInspection[]::new));
        TakeLimits.check(takes, request);
        findings.addAll(TakeFindings.of(takes, session.microphone()));
        if (!session.input().isKnown()) {
            findings.add(subject.otherEndUnknown());
        }
        noteSampleRate(takes);
        progress.at("comparing the takes", 0.3);
        Observation seen = new RouteChoice(session, takes, request.fromHz() / EDGE, request.toHz() * EDGE)
                .observe(request.route());
        findings.addAll(seen.findings());
        findings.addAll(GainRiding.findings(session, takes, seen));
        return seen;
    }

    private MeasureOutcome measure(Path out) throws IOException, BadInputException {
        progress.at("reading the takes", 0.05);
        CompletableFuture<List<String>> fingerprints = Fingerprints.of(session);
        Observation seen = observe();
        progress.at("solving", 0.6);
        Solution solution = solve(seen);
        List<Finding> sorted = Judgement.mostSeriousFirst(findings);
        Usability usability = Judgement.of(solution.curve(), sorted, seen.timed(), solution.uncorrectedDrift());
        Measurement measurement = new Measurement(
                session.microphone(),
                solution.curve(),
                seen.route(),
                seen.reason(),
                usability,
                sorted,
                provenance(seen, solution.leftOut(), Fingerprints.join(fingerprints)));
        List<String> advice = Advice.of(measurement, session, subject);
        if (usability == Usability.UNUSABLE && !request.force()) {
            return new MeasureOutcome(measurement, advice, null, List.of());
        }
        progress.at("drawing", 0.8);
        LinePlotData lines = subject == Subject.INPUT
                ? null
                : LinePicture.of(session.microphone().label(), solution.curve(), seen, loads(), solution.leftOut());
        var files = ResultFiles.of(measurement, lines);
        ResultFolder.write(out, files);
        progress.at("done", 1);
        return new MeasureOutcome(measurement, advice, out, List.copyOf(files.keySet()));
    }

    private void noteSampleRate(List<TakeInspection> takes) {
        double rate = takes.get(0).indicators().sampleRate();
        if (request.toHz() > RouteChoice.HIGHEST_SHARE * rate) {
            findings.add(new Finding(
                    FindingCode.SAMPLE_RATE,
                    null,
                    String.format(
                            Locale.ROOT,
                            "takes at %.0f Hz hold nothing above %.1f kHz; record at 48 kHz or more for the whole range",
                            rate,
                            RouteChoice.HIGHEST_SHARE * rate / 1000)));
        }
    }

    private LoadedTakes loads() {
        return new LoadedTakes(
                session.takes().stream().map(Take::load).toList(),
                session.input(),
                session.takes().stream().map(Take::file).toList());
    }

    /** A curve and what was left out for it. */
    private record Solution(ImpedanceCurve curve, boolean[] leftOut, boolean uncorrectedDrift) {}

    private Solution solve(Observation seen) throws BadInputException {
        boolean[] leftOut = new boolean[session.takes().size()];
        Arrays.fill(leftOut, true);
        for (int k : seen.kept()) {
            leftOut[k] = false;
        }
        LoadedTakes takes = loads().only(seen.kept());
        BinObservations bins = seen.bins();
        requireDifferentLoads(takes);
        boolean drifted = false;
        double spread = 0;
        RepeatedLoads repeats = RepeatedLoads.NONE;
        if (seen.route() != Route.POWER) {
            List<Take> kept =
                    Arrays.stream(seen.kept()).mapToObj(session.takes()::get).toList();
            LevelSteps steps = LevelSteps.of(seen, takes, kept);
            findings.addAll(steps.findings());
            drifted = steps.uncertain();
            int[] places = steps.used();
            kept = Arrays.stream(places).mapToObj(kept::get).toList();
            bins = bins.only(places);
            takes = takes.only(places);
            Arrays.fill(leftOut, true);
            for (int k : places) {
                leftOut[seen.kept()[k]] = false;
            }
            repeats = RepeatedLoads.of(bins, kept);
            bins = repeats.levelled(bins);
            findings.addAll(repeats.findings());
            findings.addAll(SourceLevels.findings(seen, session.takes()));
            if (takes.size() > 2) {
                TakeAgreement agreement = TakeAgreement.of(bins, takes);
                findings.addAll(CurveFindings.agreement(agreement, kept, subject));
                spread = agreement.gainSpread();
                if (CurveFindings.leavesOut(agreement)) {
                    drifted |= agreement.levelExplainsBetter();
                    int[] others = IntStream.range(0, takes.size())
                            .filter(k -> k != agreement.suspect())
                            .toArray();
                    leftOut[seen.kept()[places[agreement.suspect()]]] = true;
                    bins = bins.only(others);
                    takes = takes.only(others);
                    spread = TakeAgreement.of(bins, takes).gainSpread();
                }
            }
        }
        CurveEstimate estimate = estimate(seen, bins, takes, spread, repeats);
        ImpedanceCurve curve = subject.curve(estimate, takes);
        findings.addAll(CurveFindings.weak(curve));
        findings.addAll(CurveFindings.negative(curve));
        return new Solution(curve, leftOut, drifted);
    }

    private void requireDifferentLoads(LoadedTakes takes) throws BadInputException {
        if (takes.loads().stream().mapToDouble(l -> l.conductance()).distinct().count() < 2) {
            throw new BadInputException("the takes that hold the same sound all have one " + subject.resistor()
                    + "; record the same sound through another " + subject.resistor());
        }
    }

    private CurveEstimate estimate(
            Observation seen, BinObservations bins, LoadedTakes takes, double seenSpread, RepeatedLoads repeats)
            throws BadInputException {
        Integer asked = request.bandsPerOctave();
        boolean power = seen.route() == Route.POWER;
        FrequencyBands bands = FrequencyBands.within(
                asked != null ? asked : power ? POWER_BANDS : MeasureRequest.DEFAULT_BANDS_PER_OCTAVE,
                request.fromHz(),
                request.toHz());
        InputRange.check(session, bands);
        double assumed = power
                ? LevelDrift.POWER
                : seen.route() == Route.REFERENCE ? LevelDrift.REFERENCED : LevelDrift.COMPARED;
        GainScatter scatter = GainScatter.believed(LevelDrift.believed(session.levelDriftPercent(), assumed))
                .with(repeats)
                .atLeast(seenSpread);
        Priors priors = new Priors(scatter.relative(), scatter.freedom(), seen.delayUncertainty());
        return power
                ? new PowerSolver(bands, priors).solve(bins, takes)
                : new CoherentSolver(bands, priors, request.sharedErrors()).solve(bins, takes);
    }

    private Provenance provenance(Observation seen, boolean[] leftOut, List<String> fingerprints) {
        List<Provenance.TakeOrigin> origins = new ArrayList<>();
        for (int k = 0; k < leftOut.length; k++) {
            Take take = session.takes().get(k);
            origins.add(new Provenance.TakeOrigin(
                    new Provenance.FileOrigin(take.file(), fingerprints.get(k)),
                    subject.ohm(take.load().ohm()),
                    take.load().isOpen() ? 0 : tolerance(take),
                    take.channel(),
                    take.referenceChannel(),
                    seen.delaySamples()[k],
                    seen.driftDb()[k],
                    seen.clockPpm()[k],
                    leftOut[k]));
        }
        Provenance.@Nullable FileOrigin stimulus = null;
        if (session.stimulus() != null && session.stimulus().file() != null) {
            stimulus = new Provenance.FileOrigin(session.stimulus().file(), fingerprints.get(leftOut.length));
        }
        return new Provenance(
                Version.current(),
                Instant.now().truncatedTo(ChronoUnit.SECONDS),
                subject == Subject.INPUT
                        ? generator(session.input())
                        : session.input().label(),
                origins,
                stimulus);
    }

    private static String generator(InputImpedance dual) {
        return dual instanceof StatedInput stated
                ? CurveFindings.ohms(Dual.ohm(stated.ohm())) + " ± " + stated.tolerancePercent() + " %"
                : dual.label();
    }

    private static double tolerance(Take take) {
        return take.load().isMeasured()
                ? 100 * take.load().relativeStandardUncertainty()
                : take.load().tolerancePercent();
    }
}
