package ohmprint.app.report;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.app.Progress;
import ohmprint.app.Version;
import ohmprint.app.check.CheckCurve;
import ohmprint.app.check.CheckOutcome;
import ohmprint.app.library.Comparison;
import ohmprint.app.match.MatchCurve;
import ohmprint.app.match.MatchOutcome;
import ohmprint.app.match.MatchRequest;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.measure.MeasureSession;
import ohmprint.chart.Chart;
import ohmprint.chart.ChartTheme;
import ohmprint.chart.ImpedanceChart;
import ohmprint.chart.Sheet;
import ohmprint.chart.SheetHtml;
import ohmprint.chart.SheetPdf;
import ohmprint.files.AtomicFile;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Microphone;
import ohmprint.impedance.Usability;
import org.jspecify.annotations.Nullable;

/** Writes the sheet that goes back with a microphone. */
public final class HandOver {
    private final HandOverRequest request;
    private final Measurement measurement;
    private final @Nullable CheckOutcome check;
    private final List<Sheet.Section> sections = new ArrayList<>();
    private @Nullable String warningOfComparison;

    private HandOver(HandOverRequest request, Measurement measurement, @Nullable CheckOutcome check) {
        this.request = request;
        this.measurement = measurement;
        this.check = check;
    }

    /**
     * Reads the curve, or measures the session when it was not measured yet, and writes the sheet; an existing file of that
     * name is replaced once the new one is complete.
     *
     * @param request what is wanted
     * @param progress hears how far it has come
     * @throws BadInputException if a curve, session, specification or workshop cannot be used
     * @throws IOException if a file cannot be read or written
     */
    public static HandOverOutcome run(HandOverRequest request, Progress progress)
            throws BadInputException, IOException {
        requireWritable(request.out());
        Sheet.Workshop workshop =
                request.workshop() == null ? Sheet.Workshop.NONE : WorkshopFile.read(request.workshop());
        Measurement measurement = subject(request.subject(), progress);
        Path specification = request.specification();
        CheckOutcome check =
                specification == null ? null : CheckCurve.decide(measurement, CheckCurve.specification(specification));
        progress.at("composing", 0.9);
        return new HandOver(request, measurement, check).write(workshop);
    }

    /**
     * Files that the file of a workshop names; whether they are there is not looked at.
     *
     * @throws BadInputException if it cannot be read
     */
    public static List<Path> filesNamed(Path workshop) throws BadInputException {
        Path logo = WorkshopFile.logoNamed(workshop);
        return logo == null ? List.of() : List.of(logo);
    }

    /** Objects to a file that cannot be written there before anything is computed. */
    private static void requireWritable(Path file) throws BadInputException {
        if (Files.isDirectory(file)) {
            throw new BadInputException(file + " is a folder; give --out the name of a file, such as sheet.pdf");
        }
        Path parent = file.toAbsolutePath().getParent();
        Path folder = parent == null ? file.toAbsolutePath() : parent;
        if (!Files.isDirectory(folder)) {
            throw new BadInputException(folder + " is not there; make the folder first, or name another file");
        }
    }

    /** A session without a result is measured; what does not support a curve is still something to report on. */
    private static Measurement subject(String subject, Progress progress) throws BadInputException, IOException {
        Path folder = folder(subject);
        if (folder != null
                && Files.isRegularFile(folder.resolve("session.yaml"))
                && !Files.isRegularFile(folder.resolve(NamedCurve.IN_A_SESSION))) {
            return MeasureSession.run(MeasureRequest.of(folder), progress).measurement();
        }
        return NamedCurve.of(subject).measurement();
    }

    private static @Nullable Path folder(String subject) {
        try {
            Path path = Path.of(subject);
            return Files.isDirectory(path) ? path : null;
        } catch (InvalidPathException e) {
            return null;
        }
    }

    private HandOverOutcome write(Sheet.Workshop workshop) throws BadInputException, IOException {
        compose();
        Microphone m = measurement.microphone();
        Sheet sheet = new Sheet(
                m.label(),
                subtitle(m),
                workshop,
                warning(),
                sections,
                "Made by ohmprint " + Version.current() + " at "
                        + request.time().truncatedTo(ChronoUnit.SECONDS)
                        + " from measured takes; checksums of the takes are"
                        + " stated above, so the measurement can be repeated.");
        byte[] bytes = request.form() == HandOverRequest.Form.HTML
                ? SheetHtml.of(sheet).getBytes(StandardCharsets.UTF_8)
                : SheetPdf.of(sheet, request.paper(), request.time());
        AtomicFile.replace(request.out(), bytes);
        return new HandOverOutcome(
                measurement,
                request.out(),
                bytes.length,
                sections.stream().map(Sheet.Section::heading).toList(),
                check == null ? null : check.verdict(),
                warningOfComparison);
    }

    private void compose() throws BadInputException, IOException {
        sections.add(SheetSections.result(measurement, chart(ChartTheme.LIGHT), chart(ChartTheme.DARK)));
        if (check != null) {
            sections.add(SheetSections.specification(check));
        }
        boolean values = measurement.curve().count(BandStatus.MEASURED) > 0;
        boolean relied = measurement.usability() != Usability.UNUSABLE && values;
        if (relied && !measurement.curve().parallelWithInput()) {
            MatchOutcome match = MatchCurve.of(new NamedCurve(request.subject(), measurement), loads());
            sections.add(SheetSections.inputs(match));
            add(SheetSections.levels(match));
        }
        String earlier = request.earlier();
        if (earlier != null) {
            Comparison comparison = Comparison.of(
                    List.of(NamedCurve.of(earlier), new NamedCurve(request.subject(), measurement)), false);
            warningOfComparison = comparison.differences().get(0).different();
            sections.add(SheetSections.comparison(comparison));
        }
        if (relied) {
            add(SheetSections.circuit(measurement));
        }
        sections.add(SheetSections.findings(measurement));
        sections.add(SheetSections.uncertainty(measurement));
        sections.add(SheetSections.method(measurement));
        sections.add(SheetSections.cautions());
    }

    private Chart chart(ChartTheme theme) {
        ImpedanceChart chart = check == null
                ? ImpedanceChart.of(measurement, theme)
                : ImpedanceChart.checked(measurement, check.specification(), check.decided(), theme);
        return chart.forPage();
    }

    private void add(Sheet.@Nullable Section section) {
        if (section != null) {
            sections.add(section);
        }
    }

    private MatchRequest loads() {
        return MatchRequest.of(request.subject(), SheetSections.USUAL_OHMS).hearing(request.sound());
    }

    private @Nullable String warning() {
        if (measurement.usability() == Usability.UNUSABLE) {
            return "This measurement is marked unusable: the takes do not support a curve. The findings say what to record"
                    + " again.";
        }
        return measurement.curve().parallelWithInput()
                ? "The recording input was not stated, so this is the microphone in parallel with it, not the microphone"
                        + " alone."
                : null;
    }

    private static String subtitle(Microphone m) {
        List<String> parts = new ArrayList<>();
        parts.add("Source impedance of a microphone");
        for (String part :
                new String[] {m.maker(), m.model(), m.serial() == null ? null : "serial " + m.serial(), m.transducer()
                }) {
            if (part != null) {
                parts.add(part);
            }
        }
        return String.join(", ", parts);
    }
}
