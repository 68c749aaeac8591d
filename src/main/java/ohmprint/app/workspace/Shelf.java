package ohmprint.app.workspace;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.app.library.AddToLibrary;
import ohmprint.app.library.Bundle;
import ohmprint.app.library.EntryDetail;
import ohmprint.app.library.KeepLibrary;
import ohmprint.app.library.LibraryPlace;
import ohmprint.app.library.ReadLibrary;
import ohmprint.library.Entry;
import ohmprint.library.EntryList;
import ohmprint.library.Filter;
import ohmprint.library.LibraryHealth;
import org.jspecify.annotations.Nullable;

/** The library of a workspace: what is kept, found, linked, removed and exchanged. */
public final class Shelf {
    private static final String BUNDLE = "bundle.zip";

    private final LibraryPlace place;
    private final Curves curves;

    Shelf(LibraryPlace place, Curves curves) {
        this.place = place;
        this.curves = curves;
    }

    /** The newest measurements that are asked for. */
    public EntriesView search(SearchForm form) throws BadInputException, IOException {
        EntryList found = ReadLibrary.list(place, form.query(), form.limit());
        return new EntriesView(
                found.library(),
                found.total(),
                found.entries().stream().map(EntryView::of).toList());
    }

    /** One measurement by its identifier or the first four digits or more of it. */
    public EntryDetailView show(String id) throws BadInputException, IOException {
        EntryDetail detail = ReadLibrary.show(place, id);
        return new EntryDetailView(
                EntryView.of(detail.entry()),
                curves.view(LibraryReference.PREFIX + detail.entry().id()),
                detail.links().stream().map(EntryDetailView.Link::of).toList());
    }

    /** Adds the result of a session; the library is made when it is not there. */
    public KeepForm.Kept keep(KeepForm form) throws BadInputException, IOException {
        String ref = form.curve();
        if (ref == null) {
            throw new BadInputException("no curve is named; name one as session:NAME");
        }
        AddToLibrary.Request request = new AddToLibrary.Request(
                List.of(curves.path(ref).toString()),
                operator(form.operator()),
                text(form.notes()),
                null,
                null,
                Boolean.TRUE.equals(form.again()));
        AddToLibrary.Outcome added =
                AddToLibrary.run(place, request, each -> {}).get(0);
        return new KeepForm.Kept(added.id(), added.fresh(), added.notes());
    }

    /** Says that a newer measurement takes the place of one. */
    public CareForm.Noted supersede(String id, CareForm form) throws BadInputException, IOException {
        return new CareForm.Noted(
                KeepLibrary.supersede(place, id, form.newer(), form.why(), operator(form.operator())), null);
    }

    /** Says that one measurement was made before, another after a repair. */
    public CareForm.Noted repaired(String id, CareForm form) throws BadInputException, IOException {
        String note = text(form.note());
        return new CareForm.Noted(
                KeepLibrary.repaired(place, id, form.after(), note == null ? "" : note, operator(form.operator())),
                KeepLibrary.different(place, id, form.after()));
    }

    /** Removes a measurement; a record with the reason stays. */
    public EntryView remove(String id, CareForm form) throws BadInputException, IOException {
        Entry removed = KeepLibrary.remove(place, id, form.why(), operator(form.operator()));
        curves.forget(LibraryReference.PREFIX + removed.id());
        return EntryView.of(removed);
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
        try (Scratch scratch = Scratch.make()) {
            Path file = scratch.file(BUNDLE);
            Bundle.export(place, ids, Filter.CURRENT, false, file);
            return Files.readAllBytes(file);
        }
    }

    /** Takes in what another workshop handed out, all or nothing. */
    public BundleView takeIn(InputStream in) throws BadInputException, IOException {
        try (Scratch scratch = Scratch.make()) {
            Path file = scratch.file(BUNDLE);
            Files.copy(in, file);
            try {
                return BundleView.of(Bundle.take(place, file));
            } catch (BadInputException e) {
                throw scratch.plain(e);
            }
        }
    }

    /** Looks for damage. */
    public LibraryHealth health() throws BadInputException, IOException {
        return KeepLibrary.verify(place);
    }

    /** Names of the specifications that are kept. */
    public SpecificationForm.Names specifications() throws BadInputException, IOException {
        return new SpecificationForm.Names(ReadLibrary.specifications(place));
    }

    /** A specification by its name. */
    public SpecificationForm.Text specification(String name) throws BadInputException, IOException {
        return new SpecificationForm.Text(name, ReadLibrary.specification(place, name));
    }

    /** Keeps a specification, which has to be one that a check understands. */
    public SpecificationForm.Text keepSpecification(String name, SpecificationForm form)
            throws BadInputException, IOException {
        String yaml = form.yaml() == null ? "" : form.yaml();
        new Limits(place, curves).read(yaml, name);
        return new SpecificationForm.Text(AddToLibrary.keep(place, name, yaml, operator(form.operator())), yaml);
    }

    private String operator(@Nullable String given) {
        String stated = text(given);
        return stated == null ? place.usualOperator() : stated;
    }

    private static @Nullable String text(@Nullable String given) {
        return given == null || given.isBlank() ? null : given.strip();
    }
}
