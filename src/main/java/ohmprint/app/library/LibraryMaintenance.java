package ohmprint.app.library;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.Microphone;
import ohmprint.library.Entry;
import ohmprint.library.Filter;
import ohmprint.library.LibraryHealth;
import ohmprint.library.Link;
import org.jspecify.annotations.Nullable;

/** What a keeper does: make, back up, verify, link, supersede, remove. */
public final class LibraryMaintenance {
    private LibraryMaintenance() {}

    /**
     * Makes an empty library where there is none.
     *
     * @return how many measurements it holds
     */
    public static int create(LibraryConnection place) throws BadInputException, IOException {
        return place.made(library -> library.page(Filter.EVERYTHING, 1).total());
    }

    /** Copies everything into a new library file. */
    public static void backUp(LibraryConnection place, Path file) throws BadInputException, IOException {
        place.with(library -> {
            library.backUp(file);
            return file;
        });
    }

    /** Looks for damage. */
    public static LibraryHealth verify(LibraryConnection place) throws BadInputException, IOException {
        return place.with(library -> library.verify(CurveJson::read));
    }

    /**
     * Says that one measurement takes the place of another.
     *
     * @return whether that is new
     */
    public static boolean supersede(LibraryConnection place, String older, String newer, String reason, String by)
            throws BadInputException, IOException {
        return link(place, Link.Kind.SUPERSEDED, older, newer, reason, by);
    }

    /**
     * Says that one measurement was made before, another after a repair.
     *
     * @return whether that is new
     */
    public static boolean repaired(LibraryConnection place, String before, String after, String note, String by)
            throws BadInputException, IOException {
        return link(place, Link.Kind.REPAIRED, before, after, note, by);
    }

    /**
     * A warning when two measurements are of different microphones, so that one cannot be from before a repair of the other,
     * or null.
     */
    public static @Nullable String different(LibraryConnection place, String before, String after)
            throws BadInputException, IOException {
        return place.with(library -> Optional.ofNullable(different(
                        library.entry(LibraryReference.id(before)), library.entry(LibraryReference.id(after)))))
                .orElse(null);
    }

    static @Nullable String different(Entry before, Entry after) {
        return OneMicrophone.warning(microphone(before), microphone(after));
    }

    private static Microphone microphone(Entry e) {
        return new Microphone(e.label(), e.maker(), e.model(), e.serial(), e.transducer(), null, null, null);
    }

    private static boolean link(
            LibraryConnection place, Link.Kind kind, String from, String to, String words, String by)
            throws BadInputException, IOException {
        return place.with(library -> {
            Entry first = library.entry(LibraryReference.id(from));
            Entry second = library.entry(LibraryReference.id(to));
            return library.link(new Link(kind, first.id(), second.id(), words, by, Instant.now()));
        });
    }

    /**
     * Removes a measurement; a record with the reason stays.
     *
     * @return what was removed
     */
    public static Entry remove(LibraryConnection place, String id, String reason, String by)
            throws BadInputException, IOException {
        return place.with(library -> {
            Entry entry = library.entry(LibraryReference.id(id));
            library.remove(entry, reason, by);
            return entry;
        });
    }
}
