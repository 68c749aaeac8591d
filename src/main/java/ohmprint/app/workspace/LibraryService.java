package ohmprint.app.workspace;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.format.DateTimeParseException;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.app.library.AddToLibrary;
import ohmprint.app.library.Bundle;
import ohmprint.app.library.LibraryConnection;
import ohmprint.app.library.LibraryMaintenance;
import ohmprint.app.library.ReadLibrary;
import ohmprint.app.library.ReadLibrary.EntryDetail;
import ohmprint.library.Entry;
import ohmprint.library.EntryList;
import ohmprint.library.Filter;
import ohmprint.library.ImportResult;
import ohmprint.library.LibraryHealth;
import ohmprint.library.Link;
import org.jspecify.annotations.Nullable;

/** The library of a workspace: what is kept, found, linked, removed and exchanged. */
public final class LibraryService {
    private static final String BUNDLE = "bundle.zip";
    private static final int USUAL = 50;
    private static final int MOST = 1000;

    private final LibraryConnection place;
    private final CurveRepository curves;

    LibraryService(LibraryConnection place, CurveRepository curves) {
        this.place = place;
        this.curves = curves;
    }

    /** The newest measurements that are asked for, by the keys of a query. */
    public EntryList search(Query query) throws BadInputException, IOException {
        return ReadLibrary.list(place, filter(query), limit(query));
    }

    private static Filter filter(Query query) throws BadInputException {
        String text = query.text("text");
        return new Filter(
                text == null ? List.of() : List.of(text.split("\\s+")),
                query.text("maker"),
                query.text("model"),
                query.text("serial"),
                query.text("transducer"),
                query.text("operator"),
                query.text("route"),
                query.text("verdict"),
                day(query, "since"),
                day(query, "until"),
                "true".equals(query.text("superseded")));
    }

    /** The first moment of a day, UTC as on the command line. */
    private static @Nullable Instant day(Query query, String key) throws BadInputException {
        String given = query.text(key);
        try {
            return given == null
                    ? null
                    : LocalDate.parse(given).atStartOfDay(ZoneOffset.UTC).toInstant();
        } catch (DateTimeParseException e) {
            throw new BadInputException("'" + given + "' is no day to search " + key + "; give it as in 2026-03-01", e);
        }
    }

    private static int limit(Query query) throws BadInputException {
        String given = query.text("limit");
        if (given == null) {
            return USUAL;
        }
        try {
            int limit = Integer.parseInt(given);
            if (limit >= 1 && limit <= MOST) {
                return limit;
            }
        } catch (NumberFormatException e) {
            throw new BadInputException("limit is '" + given + "', no number of measurements; give 1 to " + MOST, e);
        }
        throw new BadInputException("limit is " + given + " measurements; give 1 to " + MOST);
    }

    /**
     * One measurement with everything about it.
     *
     * @param entry as lists show it
     * @param curve what was measured
     * @param links links with other measurements
     */
    public record Detail(Entry entry, CurveView curve, List<Link> links) {}

    /** One measurement by its identifier or the first four digits or more of it. */
    public Detail show(String id) throws BadInputException, IOException {
        EntryDetail detail = ReadLibrary.show(place, id);
        return new Detail(
                detail.entry(),
                curves.view(LibraryReference.PREFIX + detail.entry().id()),
                detail.links());
    }

    /** Adds the result of a session; the library is made when it is not there. */
    public AddToLibrary.Outcome keep(Addition form) throws BadInputException, IOException {
        String ref = form.curve();
        if (ref == null) {
            throw new BadInputException("no curve is named; name one as session:NAME");
        }
        AddToLibrary.Request request = new AddToLibrary.Request(
                List.of(curves.path(ref).toString()),
                operator(form.operator()),
                Query.filled(form.notes()),
                null,
                null,
                Boolean.TRUE.equals(form.again()));
        return AddToLibrary.run(place, request, each -> {}).get(0);
    }

    /** Says that a newer measurement takes the place of one. */
    public Care.Noted supersede(String id, Care form) throws BadInputException, IOException {
        return new Care.Noted(
                LibraryMaintenance.supersede(place, id, form.newer(), form.why(), operator(form.operator())), null);
    }

    /** Says that one measurement was made before, another after a repair. */
    public Care.Noted repaired(String id, Care form) throws BadInputException, IOException {
        String note = Query.filled(form.note());
        return new Care.Noted(
                LibraryMaintenance.repaired(
                        place, id, form.after(), note == null ? "" : note, operator(form.operator())),
                LibraryMaintenance.different(place, id, form.after()));
    }

    /** Removes a measurement; a record with the reason stays. */
    public Entry remove(String id, Care form) throws BadInputException, IOException {
        Entry removed = LibraryMaintenance.remove(place, id, form.why(), operator(form.operator()));
        curves.forget(LibraryReference.PREFIX + removed.id());
        return removed;
    }

    /**
     * A bundle for another workshop.
     *
     * @param ids identifiers, one or more
     */
    public byte[] bundle(List<String> ids) throws BadInputException, IOException {
        if (ids.isEmpty()) {
            throw new BadInputException("no measurement is chosen for the bundle; choose one or more");
        }
        try (TempDirectory scratch = TempDirectory.make()) {
            Path file = scratch.file(BUNDLE);
            Bundle.export(place, ids, Filter.CURRENT, false, file);
            return Files.readAllBytes(file);
        }
    }

    /** Takes in what another workshop handed out, all or nothing. */
    public ImportResult takeIn(InputStream in) throws BadInputException, IOException {
        try (TempDirectory scratch = TempDirectory.make()) {
            Path file = scratch.file(BUNDLE);
            Files.copy(in, file);
            try {
                return Bundle.take(place, file);
            } catch (BadInputException e) {
                throw scratch.plain(e);
            }
        }
    }

    /** Looks for damage. */
    public LibraryHealth health() throws BadInputException, IOException {
        return LibraryMaintenance.verify(place);
    }

    /** Names of the specifications that are kept. */
    public List<String> specifications() throws BadInputException, IOException {
        return ReadLibrary.specifications(place);
    }

    /** A specification by its name. */
    public SpecificationText specification(String name) throws BadInputException, IOException {
        return new SpecificationText(name, ReadLibrary.specification(place, name));
    }

    /** Keeps a specification, which has to be one that a check understands. */
    public SpecificationText keepSpecification(String name, NewSpecification form)
            throws BadInputException, IOException {
        String yaml = form.yaml() == null ? "" : form.yaml();
        curves.specification(yaml, name);
        return new SpecificationText(AddToLibrary.keep(place, name, yaml, operator(form.operator())), yaml);
    }

    private String operator(@Nullable String given) {
        String stated = Query.filled(given);
        return stated == null ? place.usualOperator() : stated;
    }

    /**
     * A curve that goes into the library.
     *
     * @param curve {@code session:NAME}
     * @param operator who measured or hands it in; null for who usually does
     * @param notes free text, or null
     * @param again whether it is added although it was removed once
     */
    public record Addition(
            @Nullable String curve,
            @Nullable String operator,
            @Nullable String notes,
            @Nullable Boolean again) {}

    /**
     * What a keeper says of a measurement: that another takes its place, that another was made after a repair, or that it goes.
     *
     * @param byId identifier of the measurement that takes its place, or null
     * @param afterId identifier of the measurement after the repair, or null
     * @param reason why, or null
     * @param note free text, or null
     * @param operator who says so; null for who usually works here
     */
    public record Care(
            @Nullable String byId,
            @Nullable String afterId,
            @Nullable String reason,
            @Nullable String note,
            @Nullable String operator) {
        /**
         * Whether something new was noted.
         *
         * @param fresh false when it was known already
         * @param warning what speaks against it, or null
         */
        public record Noted(boolean fresh, @Nullable String warning) {}

        String newer() throws BadInputException {
            return stated(byId, "the identifier of the measurement that takes its place (by_id)");
        }

        String after() throws BadInputException {
            return stated(afterId, "the identifier of the measurement after the repair (after_id)");
        }

        String why() throws BadInputException {
            return stated(reason, "a reason, which stays in the record");
        }

        private static String stated(@Nullable String given, String what) throws BadInputException {
            if (given == null || given.isBlank()) {
                throw new BadInputException("something is missing: give " + what);
            }
            return given.strip();
        }
    }

    /**
     * A specification that is to be kept.
     *
     * @param yaml its text
     * @param operator who keeps it; null for who usually works here
     */
    public record NewSpecification(
            @Nullable String yaml, @Nullable String operator) {}

    /**
     * A specification that is kept.
     *
     * @param name its name
     * @param yaml its text
     */
    public record SpecificationText(String name, String yaml) {}
}
