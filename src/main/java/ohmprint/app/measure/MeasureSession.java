package ohmprint.app.measure;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode.Wording;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.Measurement;
import ohmprint.curve.Usability;
import ohmprint.estimate.LoadedTakes;
import ohmprint.estimate.Parallel;
import ohmprint.manifest.ManifestException;
import ohmprint.report.Chart;
import ohmprint.report.LineChart;
import ohmprint.session.AudioProbe;
import ohmprint.session.Session;
import ohmprint.session.SessionReader;
import ohmprint.session.Take;
import ohmprint.signal.RealFourier;
import ohmprint.signal.TakeScan;

/** Measures a session: from a folder of takes to a curve with its uncertainty. */
public final class MeasureSession {
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
        Ahead.start("scan", TakeScan::prepare);
        Ahead.start("fourier", RealFourier::prepare);
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
        checkRange(request);
        Path out = request.out() == null ? session.folder().resolve("result") : request.out();
        ResultFolder folder = ResultFiles.folder(out);
        return new MeasureSession(request, progress, session, subject).measure(out, folder);
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

    /** What a session gives; nothing is drawn or written. */
    static Measurement measurement(MeasureRequest request) throws BadInputException, IOException {
        try {
            Session session = new SessionReader(TakeFiles.probe()).read(request.session());
            MeasureSession run = new MeasureSession(request, Progress.SILENT, session, Subject.MICROPHONE);
            Observation seen = run.observe();
            return run.measurement(seen, run.solve(seen), Fingerprints.of(session));
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private Lines lines() throws IOException, BadInputException {
        Observation seen = observe();
        SessionSolver.Solution solution = solve(seen);
        return new Lines(session.microphone().label(), solution.curve(), seen, loads(), solution.leftOut());
    }

    private Observation observe() throws IOException, BadInputException {
        List<TakeInspection> takes =
                List.of(Parallel.map(session.takes(), take -> TakeInspection.of(session, take), TakeInspection[]::new));
        // Only now: all processors have been busy with the takes.
        Ahead.start("charts", Chart::prepare);
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

    private SessionSolver.Solution solve(Observation seen) throws BadInputException {
        SessionSolver.Solution solution = new SessionSolver(request, session, subject).solve(seen, loads());
        findings.addAll(solution.findings());
        return solution;
    }

    private MeasureOutcome measure(Path out, ResultFolder folder) throws IOException, BadInputException {
        progress.at("reading the takes", 0.05);
        CompletableFuture<List<String>> fingerprints = Fingerprints.of(session);
        Observation seen = observe();
        progress.at("solving", 0.6);
        SessionSolver.Solution solution = solve(seen);
        Measurement measurement = measurement(seen, solution, fingerprints);
        List<String> advice = Advice.of(measurement, session, subject);
        if (measurement.usability() == Usability.UNUSABLE && !request.force()) {
            return new MeasureOutcome(measurement, advice, null, List.of());
        }
        progress.at("drawing", 0.8);
        LineChart.Data lines = subject == Subject.INPUT
                ? null
                : LinePicture.of(session.microphone().label(), solution.curve(), seen, loads(), solution.leftOut());
        var files = ResultFiles.of(measurement, lines);
        folder.write(ResultFiles.inWritingOrder(files));
        progress.at("done", 1);
        return new MeasureOutcome(measurement, advice, out, List.copyOf(files.keySet()));
    }

    private Measurement measurement(
            Observation seen, SessionSolver.Solution solution, CompletableFuture<List<String>> fingerprints)
            throws IOException, BadInputException {
        List<Finding> sorted = Judgement.mostSeriousFirst(findings);
        return new Measurement(
                session.microphone(),
                solution.curve(),
                seen.route(),
                seen.reason(),
                Judgement.of(
                        solution.curve(),
                        sorted,
                        seen.timed() && !solution.contradicted(),
                        solution.uncorrectedDrift()),
                sorted,
                SessionProvenance.of(session, subject, seen, solution.leftOut(), Fingerprints.join(fingerprints)));
    }

    private void noteSampleRate(List<TakeInspection> takes) {
        double rate = takes.get(0).indicators().sampleRate();
        if (request.toHz() > ComparedTakes.HIGHEST_SHARE * rate) {
            findings.add(Wording.LOW_SAMPLE_RATE.of(null, rate, ComparedTakes.HIGHEST_SHARE * rate / 1000));
        }
    }

    private LoadedTakes loads() {
        return new LoadedTakes(
                session.takes().stream().map(Take::load).toList(),
                session.input(),
                session.takes().stream().map(Take::file).toList());
    }
}
