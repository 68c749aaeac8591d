package ohmprint.app.library;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.app.NamedCurve;
import ohmprint.exchange.CurveJson;
import ohmprint.exchange.ExchangeException;
import ohmprint.impedance.Measurement;
import ohmprint.library.CurveLibrary;
import ohmprint.library.Entry;
import ohmprint.library.LibraryException;
import ohmprint.library.Link;
import ohmprint.library.NewMeasurement;
import ohmprint.yaml.ManifestException;
import ohmprint.yaml.ManifestText;
import org.jspecify.annotations.Nullable;

/** Adds results to a library, which is made when it is not there; and keeps specifications. */
public final class AddToLibrary {
    private static final int LONGEST_NAME = 100;

    private AddToLibrary() {}

    /**
     * What goes into a library.
     *
     * @param curves folders of results or {@code curve.json} files, at least one
     * @param operator who measured or hands it in
     * @param note free text, or null
     * @param supersedes identifier of the measurement that the only curve takes the place of, or null
     * @param repairOf identifier of the measurement before the repair after which the only curve was measured, or null
     * @param again whether it is added although it was removed once
     */
    public record Request(
            List<String> curves,
            String operator,
            @Nullable String note,
            @Nullable String supersedes,
            @Nullable String repairOf,
            boolean again) {
        /** Copies the list. */
        public Request {
            curves = List.copyOf(curves);
        }
    }

    /**
     * What became of a curve that was added.
     *
     * @param source where it was read
     * @param id its identifier
     * @param label what the bench calls the microphone
     * @param fresh false when the library held it already, so that nothing was changed
     * @param notes what to know about it: what was not saved, what speaks against a link; often none
     */
    public record Outcome(String source, String id, String label, boolean fresh, List<String> notes) {
        /** Copies the list. */
        public Outcome {
            notes = List.copyOf(notes);
        }
    }

    /**
     * Adds curves. All are read before the first is added; each is then added whole or not at all.
     *
     * @param each told of each as soon as it is safe on the disk
     */
    public static List<Outcome> run(LibraryConnection place, Request request, Consumer<Outcome> each)
            throws BadInputException, IOException {
        if (request.curves().size() != 1 && (request.supersedes() != null || request.repairOf() != null)) {
            throw new BadInputException(request.curves().size()
                    + " curves cannot take the place of one measurement, or follow one repair; add them one by one");
        }
        List<Path> files = new ArrayList<>();
        for (String curve : request.curves()) {
            Path file = NamedCurve.file(curve);
            read(file, request);
            files.add(file);
        }
        return place.made(library -> {
            List<Outcome> outcomes = new ArrayList<>();
            for (Path file : files) {
                NewMeasurement measurement = read(file, request);
                NewMeasurement.Added added =
                        library.add(measurement, request.again(), links(library, measurement, request));
                Outcome outcome = new Outcome(
                        file.toString(),
                        added.id(),
                        measurement.measurement().microphone().label(),
                        added.fresh(),
                        notes(library, measurement, added, request));
                outcomes.add(outcome);
                each.accept(outcome);
            }
            return outcomes;
        });
    }

    /**
     * Keeps a specification, whose text is not looked at here.
     *
     * @param file the YAML file
     * @param name its name, or null for that of the file without its ending
     * @return the name
     */
    public static String specification(LibraryConnection place, Path file, @Nullable String name, String by)
            throws BadInputException, IOException {
        String given = name == null ? String.valueOf(file.getFileName()).replaceFirst("\\.[A-Za-z]+$", "") : name;
        try {
            return keep(place, given, ManifestText.read(file, file.toString()), by);
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    /**
     * Keeps the text of a specification under a name.
     *
     * @return the name
     */
    public static String keep(LibraryConnection place, String name, String yaml, String by)
            throws BadInputException, IOException {
        String kept = name.strip();
        if (kept.isEmpty() || kept.length() > LONGEST_NAME || kept.codePoints().anyMatch(Character::isISOControl)) {
            throw new BadInputException(
                    "a specification needs a name of 1 to " + LONGEST_NAME + " characters on one line; give it one");
        }
        return place.made(library -> library.keepSpecification(kept, yaml, by).name());
    }

    private static NewMeasurement read(Path file, Request request) throws BadInputException, IOException {
        try {
            String text = CurveJson.text(file);
            Measurement measurement = CurveJson.read(text, file.toString());
            return new NewMeasurement(text, measurement, request.operator(), request.note());
        } catch (ExchangeException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private static List<String> notes(
            CurveLibrary library, NewMeasurement measurement, NewMeasurement.Added added, Request request)
            throws LibraryException {
        List<String> notes = new ArrayList<>();
        if (!added.fresh()) {
            Entry there = library.entry(added.id());
            List<String> given = new ArrayList<>();
            if (!there.operator().equals(measurement.operator())) {
                given.add("operator '" + measurement.operator() + "'");
            }
            if (measurement.note() != null && !measurement.note().equals(there.note())) {
                given.add("note '" + measurement.note() + "'");
            }
            if (!given.isEmpty()) {
                notes.add("the library keeps operator '" + there.operator() + "' and "
                        + (there.note() == null ? "no note" : "note '" + there.note() + "'") + "; "
                        + String.join(" and ", given) + (given.size() == 1 ? " was" : " were") + " not saved");
            }
        }
        if (request.repairOf() != null) {
            String different = LibraryMaintenance.different(
                    library.entry(LibraryReference.id(request.repairOf())), library.entry(added.id()));
            if (different != null) {
                notes.add(different);
            }
        }
        return notes;
    }

    private static List<Link> links(CurveLibrary library, NewMeasurement added, Request request)
            throws LibraryException {
        List<Link> links = new ArrayList<>();
        String words = request.note() == null ? "" : request.note();
        if (request.supersedes() != null) {
            links.add(link(library, Link.Kind.SUPERSEDED, request.supersedes(), added, words, request));
        }
        if (request.repairOf() != null) {
            links.add(link(library, Link.Kind.REPAIRED, request.repairOf(), added, words, request));
        }
        return links;
    }

    private static Link link(
            CurveLibrary library, Link.Kind kind, String from, NewMeasurement to, String words, Request request)
            throws LibraryException {
        String id = library.entry(LibraryReference.id(from)).id();
        return new Link(kind, id, to.id(), words, request.operator(), Instant.now());
    }
}
