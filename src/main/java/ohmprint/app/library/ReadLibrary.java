package ohmprint.app.library;

import java.io.IOException;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.impedance.Measurement;
import ohmprint.library.Entry;
import ohmprint.library.EntryList;
import ohmprint.library.Filter;
import ohmprint.library.KeptSpecification;
import ohmprint.library.LibraryException;
import ohmprint.library.Link;

/** Lists and shows what a library holds. */
public final class ReadLibrary {
    private ReadLibrary() {}

    /**
     * The newest measurements that pass a filter.
     *
     * @param most how many at most
     */
    public static EntryList list(LibraryConnection place, Filter filter, int most)
            throws BadInputException, IOException {
        return place.with(library -> library.page(filter, most));
    }

    /** One measurement by its identifier or the first four digits or more of it. */
    public static EntryDetail show(LibraryConnection place, String id) throws BadInputException, IOException {
        return place.with(library -> {
            Entry entry = library.entry(LibraryReference.id(id));
            String document = library.document(entry);
            return new EntryDetail(
                    entry, LibraryReference.read(entry, document).measurement(), document, library.links(entry));
        });
    }

    /** Names of the specifications that are kept, in order. */
    public static List<String> specifications(LibraryConnection place) throws BadInputException, IOException {
        return place.with(library ->
                library.specifications().stream().map(KeptSpecification::name).toList());
    }

    /** The text of a specification by its name. */
    public static String specification(LibraryConnection place, String name) throws BadInputException, IOException {
        return place.with(library -> library.specification(name)
                .map(KeptSpecification::yaml)
                .orElseThrow(() -> new LibraryException("library " + library.location() + " holds no specification "
                        + name + "; ohmprint library list --specifications names them")));
    }

    /**
     * One measurement with everything about it.
     *
     * @param entry as lists show it
     * @param measurement what was measured
     * @param document its {@code curve.json}, as it was added
     * @param links links with other measurements
     */
    public record EntryDetail(Entry entry, Measurement measurement, String document, List<Link> links) {
        /** Copies the links. */
        public EntryDetail {
            links = List.copyOf(links);
        }
    }
}
