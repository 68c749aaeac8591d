package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.app.NamedCurve;
import ohmprint.app.Progress;
import ohmprint.app.library.LibraryConnection;
import ohmprint.app.library.ReadLibrary;
import ohmprint.app.match.MatchRequest;
import ohmprint.app.report.HandOver;
import ohmprint.app.report.HandOverRequest;
import ohmprint.chart.ChartTheme;
import ohmprint.chart.ImpedanceChart;
import ohmprint.exchange.CurveFormat;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.Measurement;
import org.jspecify.annotations.Nullable;

/** Files to hand out: the sheet that goes back with a microphone, and a curve in the forms that others read. */
public final class Downloads {
    private static final String WORKSHOP = "workshop.yaml";
    private static final double MOST_MV = 10_000;
    private static final double MOST_DB = 200;

    private final PathGuard places;
    private final LibraryConnection library;
    private final CurveRepository curves;

    Downloads(PathGuard places, LibraryConnection library, CurveRepository curves) {
        this.places = places;
        this.library = library;
        this.curves = curves;
    }

    /** Name of the file that says who hands a sheet over, or null when the workspace holds none. */
    static @Nullable String workshop(PathGuard places) {
        return Files.isRegularFile(places.root().resolve(WORKSHOP)) ? WORKSHOP : null;
    }

    /**
     * A file to hand out.
     *
     * @param name name for it
     * @param mediaType what it is, as in HTTP
     * @param bytes its content
     */
    public record Sheet(String name, String mediaType, byte[] bytes) {}

    /** Writes the sheet that a query asks for. */
    public Sheet report(Query query) throws BadInputException, IOException {
        HandOverRequest.Form form = form(query);
        String ref = query.text("curve");
        if (ref == null) {
            throw new BadInputException("no curve is named for the report; name one as session:NAME or library:ID");
        }
        String name = PathGuard.folderName(
                        curves.stored(ref).measurement().microphone().label()) + "." + form.word();
        try (TempDirectory scratch = TempDirectory.make()) {
            String compared = query.text("compared");
            String specification = query.text("specification");
            Path out = scratch.file(name);
            HandOverRequest request = new HandOverRequest(
                    file(ref, scratch.file("curve.json")),
                    specification == null ? null : text(specification, scratch.file("specification.yaml")),
                    compared == null ? null : file(compared, scratch.file("earlier.json")),
                    places.rootFile(WORKSHOP, HandOver::filesNamed),
                    sound(query),
                    out,
                    form,
                    HandOverRequest.paper(paper(query)),
                    Instant.now());
            try {
                HandOver.run(request, Progress.SILENT);
            } catch (BadInputException e) {
                throw scratch.plain(e);
            }
            String type = form == HandOverRequest.Form.PDF ? "application/pdf" : "text/html; charset=utf-8";
            return new Sheet(name, type, Files.readAllBytes(out));
        }
    }

    private static HandOverRequest.Form form(Query query) throws BadInputException {
        String given = query.text("form");
        for (HandOverRequest.Form form : HandOverRequest.Form.values()) {
            if (given == null || form.word().equals(given)) {
                return form;
            }
        }
        throw new BadInputException("a report as '" + given + "' is not made here; choose pdf or html");
    }

    private static String paper(Query query) throws BadInputException {
        String given = query.text("paper");
        List<String> papers = HandOverRequest.PAPERS;
        if (given != null && !papers.contains(given)) {
            throw new BadInputException(
                    "paper of the size '" + given + "' is not known; choose " + String.join(" or ", papers));
        }
        return given == null ? papers.get(0) : given;
    }

    private static MatchRequest.@Nullable Sound sound(Query query) throws BadInputException {
        Double mv = number(query, "sensitivity_mv", "mV/Pa", MOST_MV);
        Double db = number(query, "spl_db", "dB", MOST_DB);
        if (mv == null) {
            if (db != null) {
                throw new BadInputException(
                        "spl_db is given without sensitivity_mv; give the sensitivity in mV/Pa as well");
            }
            return null;
        }
        if (mv == 0) {
            throw new BadInputException("the sensitivity is 0 mV/Pa; give a number above 0, such as 1.5");
        }
        return HandOverRequest.sound(mv, db);
    }

    private static @Nullable Double number(Query query, String key, String unit, double most) throws BadInputException {
        String given = query.text(key);
        if (given == null) {
            return null;
        }
        try {
            double value = Double.parseDouble(given);
            if (value >= 0 && value <= most) {
                return value;
            }
        } catch (NumberFormatException e) {
            throw new BadInputException(key + " is '" + given + "', no number; give it in " + unit, e);
        }
        throw new BadInputException(key + " is " + given + " " + unit + "; give 0 to " + (int) most + " " + unit);
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
    public Sheet curve(String ref, String kind) throws BadInputException, IOException {
        NamedCurve stored = curves.stored(ref);
        Measurement m = stored.measurement();
        String name = PathGuard.folderName(m.microphone().label()) + "." + kind;
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
            case "png" -> new Sheet(name, "image/png", chart.png());
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

    private static Sheet sheet(String name, String type, String text) {
        return new Sheet(name, type, text.getBytes(StandardCharsets.UTF_8));
    }
}
