package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.app.Progress;
import ohmprint.app.StoredCurve;
import ohmprint.app.handover.HandOver;
import ohmprint.app.handover.HandOverRequest;
import ohmprint.app.library.LibraryPlace;
import ohmprint.app.library.ReadLibrary;
import ohmprint.curve.Measurement;
import ohmprint.exchange.CurveFormat;
import ohmprint.exchange.CurveJson;
import ohmprint.report.ChartTheme;
import ohmprint.report.ImpedanceChart;
import org.jspecify.annotations.Nullable;

/** Files to hand out: the sheet that goes back with a microphone, and a curve in the forms that others read. */
public final class Handing {
    private static final String WORKSHOP = "workshop.yaml";

    private final Places places;
    private final LibraryPlace library;
    private final Curves curves;

    Handing(Places places, LibraryPlace library, Curves curves) {
        this.places = places;
        this.library = library;
        this.curves = curves;
    }

    /** Name of the file that says who hands a sheet over, or null when the workspace holds none. */
    static @Nullable String workshop(Places places) {
        return Files.isRegularFile(places.root().resolve(WORKSHOP)) ? WORKSHOP : null;
    }

    /** Writes a sheet. */
    public ReportForm.Sheet report(ReportForm form) throws BadInputException, IOException {
        HandOverRequest.Form kind = form.form();
        String label = curves.stored(form.curve()).measurement().microphone().label();
        String name = Words.folder(label) + "." + kind.word();
        try (Scratch scratch = Scratch.make()) {
            String compared = form.compared();
            String specification = form.specification();
            Path out = scratch.file(name);
            HandOverRequest request = new HandOverRequest(
                    file(form.curve(), scratch.file("curve.json")),
                    specification == null ? null : text(specification, scratch.file("specification.yaml")),
                    compared == null ? null : file(compared, scratch.file("earlier.json")),
                    places.rootFile(WORKSHOP, HandOver::filesNamed),
                    form.sound(),
                    out,
                    kind,
                    HandOverRequest.paper(form.paper()),
                    Instant.now());
            try {
                HandOver.run(request, Progress.SILENT);
            } catch (BadInputException e) {
                throw scratch.plain(e);
            }
            String type = kind == HandOverRequest.Form.PDF ? "application/pdf" : "text/html; charset=utf-8";
            return new ReportForm.Sheet(name, type, Files.readAllBytes(out));
        }
    }

    /** The file of a curve: that of a session, or a copy of what the library holds. */
    private String file(String ref, Path copy) throws BadInputException, IOException {
        if (!ref.startsWith(LibraryReference.PREFIX)) {
            return curves.path(ref).toString();
        }
        Files.writeString(copy, ReadLibrary.show(library, ref).document());
        return copy.toString();
    }

    private Path text(String specification, Path copy) throws BadInputException, IOException {
        return Files.writeString(copy, ReadLibrary.specification(library, specification));
    }

    /**
     * A curve as a file.
     *
     * @param ref its name
     * @param kind ending of a {@link CurveFormat}, or svg or png for a picture
     */
    public ReportForm.Sheet curve(String ref, String kind) throws BadInputException, IOException {
        StoredCurve stored = curves.stored(ref);
        Measurement m = stored.measurement();
        String name = Words.folder(m.microphone().label()) + "." + kind;
        CurveFormat format = CurveFormat.of(kind).orElse(null);
        if (format != null && !format.canHold(m.curve())) {
            throw new BadInputException(format.title() + " needs a phase, which " + ref + " does not have; take the "
                    + CurveFormat.CSV.title() + " instead");
        }
        if (format != null) {
            String text = format == CurveFormat.JSON ? document(ref) : format.write(m);
            return sheet(name, format.mediaType() + "; charset=utf-8", text);
        }
        ImpedanceChart chart = ImpedanceChart.of(m, ChartTheme.LIGHT);
        return switch (kind) {
            case "svg" -> sheet(name, "image/svg+xml; charset=utf-8", chart.svg());
            case "png" -> new ReportForm.Sheet(name, "image/png", chart.png());
            default ->
                throw new BadInputException(
                        "a curve as '" + kind + "' is not made; choose " + CurveFormat.extensions() + ", svg or png");
        };
    }

    private String document(String ref) throws BadInputException, IOException {
        return ref.startsWith(LibraryReference.PREFIX)
                ? ReadLibrary.show(library, ref).document()
                : CurveJson.text(curves.path(ref));
    }

    private static ReportForm.Sheet sheet(String name, String type, String text) {
        return new ReportForm.Sheet(name, type, text.getBytes(StandardCharsets.UTF_8));
    }
}
