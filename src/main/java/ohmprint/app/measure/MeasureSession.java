package ohmprint.app.measure;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.chart.Chart;
import ohmprint.chart.LineChart;
import ohmprint.dsp.RealFourier;
import ohmprint.dsp.TakeIndicators;
import ohmprint.estimation.Parallel;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Route;
import ohmprint.impedance.Usability;
import ohmprint.session.Session;
import ohmprint.session.SessionReader;
import ohmprint.yaml.ManifestException;

/** Measures a session: from a folder of takes to a curve with its uncertainty. */
public final class MeasureSession {
    /** Bins beyond the outermost midbands that the fits may use, as a frequency ratio. */
    private static final double EDGE = 1.08;
    /** Shortest take, seconds: a few periods of the lowest bands and the ring of a room. */
    private static final double SHORTEST_SECONDS = 0.5;

    private static final double OCTAVE = 2;

    private final MeasureRequest request;
    private final Progress progress;
    private final Session session;
    private final DeviceUnderTest subject;
    private final List<Finding> findings = new ArrayList<>();

    private MeasureSession(MeasureRequest request, Progress progress, Session session, DeviceUnderTest subject) {
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
        ahead("fourier", RealFourier::prepare);
        checkRange(request);
        return run(read(request), DeviceUnderTest.MICROPHONE, request, progress);
    }

    private static Session read(MeasureRequest request) throws BadInputException, IOException {
        try {
            return new SessionReader(TakeFiles.probe()).read(request.session());
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    /** Gets ready for work that is to come while there is other work to do: on a daemon thread, returning at once. */
    private static void ahead(String name, Runnable work) {
        Thread thread = new Thread(work, name);
        thread.setDaemon(true);
        thread.start();
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
    public static MeasureOutcome run(
            Session session, DeviceUnderTest subject, MeasureRequest request, Progress progress)
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
    public static LoadLines lines(MeasureRequest request) throws BadInputException, IOException {
        checkRange(request);
        MeasureSession run = new MeasureSession(request, Progress.SILENT, read(request), DeviceUnderTest.MICROPHONE);
        AlignedSpectra seen = run.observe();
        return run.lines(seen, run.solve(seen));
    }

    /** What a session gives; nothing is drawn or written. */
    static Measurement measurement(MeasureRequest request) throws BadInputException, IOException {
        MeasureSession run = new MeasureSession(request, Progress.SILENT, read(request), DeviceUnderTest.MICROPHONE);
        SessionProvenance provenance = new SessionProvenance(run.session);
        AlignedSpectra seen = run.observe();
        return run.measurement(seen, run.solve(seen), provenance);
    }

    private LoadLines lines(AlignedSpectra seen, SessionSolver.Solution solution) {
        return new LoadLines(session.microphone().label(), solution.curve(), seen.takes(), solution.used());
    }

    private AlignedSpectra observe() throws IOException, BadInputException {
        List<TakeInspection> takes =
                List.of(Parallel.map(session.takes(), take -> TakeInspection.of(session, take), TakeInspection[]::new));
        // Only now: all processors have been busy with the takes.
        ahead("charts", Chart::prepare);
        requireComparable(takes);
        findings.addAll(TakeFindings.of(takes, session.microphone()));
        if (!session.input().isKnown()) {
            findings.add(subject.otherEndUnknown());
        }
        noteSampleRate(takes);
        progress.at("comparing the takes", 0.3);
        AlignedSpectra seen = new RouteChoice(session, takes, request.fromHz() / EDGE, request.toHz() * EDGE)
                .observe(request.route());
        findings.addAll(seen.findings());
        findings.addAll(AutomaticGainDetector.findings(session, takes, seen));
        if (seen.route() != Route.POWER) {
            RoughRatio.finding(seen.takes()).ifPresent(findings::add);
        }
        return seen;
    }

    private SessionSolver.Solution solve(AlignedSpectra seen) throws BadInputException {
        SessionSolver.Solution solution = new SessionSolver(request, session, subject).solve(seen);
        findings.addAll(solution.findings());
        return solution;
    }

    private MeasureOutcome measure(Path out, ResultFolder folder) throws IOException, BadInputException {
        progress.at("reading the takes", 0.05);
        SessionProvenance provenance = new SessionProvenance(session);
        AlignedSpectra seen = observe();
        progress.at("solving", 0.6);
        SessionSolver.Solution solution = solve(seen);
        Measurement measurement = measurement(seen, solution, provenance);
        List<String> advice = Advice.of(measurement, session, subject);
        if (measurement.usability() == Usability.UNUSABLE && !request.force()) {
            return new MeasureOutcome(measurement, advice, null, List.of());
        }
        progress.at("drawing", 0.8);
        LineChart.Data lines =
                subject == DeviceUnderTest.INPUT ? null : lines(seen, solution).data();
        var files = ResultFiles.of(measurement, lines);
        folder.write(ResultFiles.inWritingOrder(files));
        progress.at("done", 1);
        return new MeasureOutcome(measurement, advice, out, List.copyOf(files.keySet()));
    }

    private Measurement measurement(AlignedSpectra seen, SessionSolver.Solution solution, SessionProvenance provenance)
            throws IOException {
        List<Finding> sorted = UsabilityRule.mostSeriousFirst(findings);
        return new Measurement(
                session.microphone(),
                solution.curve(),
                seen.route(),
                seen.reason(),
                UsabilityRule.of(
                        solution.curve(),
                        sorted,
                        seen.timed() && !solution.contradicted(),
                        solution.uncorrectedDrift()),
                sorted,
                provenance.of(subject, seen, solution.used()));
    }

    private void noteSampleRate(List<TakeInspection> takes) {
        double rate = takes.get(0).indicators().sampleRate();
        if (request.toHz() > ComparedTakes.HIGHEST_SHARE * rate) {
            findings.add(Wording.LOW_SAMPLE_RATE.of(null, rate, ComparedTakes.HIGHEST_SHARE * rate / 1000));
        }
    }

    /** What takes and request must at least allow before anything can be compared: length and frequency range. */
    private void requireComparable(List<TakeInspection> takes) throws BadInputException {
        for (TakeInspection take : takes) {
            TakeIndicators seen = take.indicators();
            double seconds = seen.frames() / seen.sampleRate();
            if (seconds < SHORTEST_SECONDS) {
                throw new BadInputException(String.format(
                        Locale.ROOT,
                        "take %s is %.3f s long; record at least %.1f s, better 5 s, with silence before and after",
                        take.take().file(),
                        seconds,
                        SHORTEST_SECONDS));
            }
        }
        double rate = takes.get(0).indicators().sampleRate();
        double low = Math.max(request.fromHz(), TakeDelays.FROM_HZ);
        double high = Math.min(Math.min(request.toHz(), TakeDelays.TO_HZ), ComparedTakes.HIGHEST_SHARE * rate);
        if (high < OCTAVE * low) {
            throw new BadInputException(String.format(
                    Locale.ROOT,
                    "--from %.0f Hz to --to %.0f Hz leaves less than an octave between %.0f Hz and %.0f Hz, where the takes"
                            + " are compared; widen the range",
                    request.fromHz(),
                    request.toHz(),
                    TakeDelays.FROM_HZ,
                    Math.min(TakeDelays.TO_HZ, ComparedTakes.HIGHEST_SHARE * rate)));
        }
    }
}
