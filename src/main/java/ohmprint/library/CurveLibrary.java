package ohmprint.library;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import ohmprint.files.Sha256;
import ohmprint.library.NewMeasurement.Added;
import org.jspecify.annotations.Nullable;

/** An open library. Threads may share it. Every method fails with a {@link LibraryException} in words for the user. */
public final class CurveLibrary implements AutoCloseable {
    private static final int FEWEST_DIGITS = 4;

    private final LibraryLocation location;
    private final Database database;

    private CurveLibrary(LibraryLocation location, boolean make) throws LibraryException {
        this.location = location;
        this.database = location.open(make);
    }

    /** Opens a library that is there; an older one is brought up to date. */
    public static CurveLibrary open(LibraryLocation location) throws LibraryException {
        return new CurveLibrary(location, false);
    }

    /** Opens a library, and makes an empty one where there is none. */
    public static CurveLibrary openOrMake(LibraryLocation location) throws LibraryException {
        return new CurveLibrary(location, true);
    }

    /** Where it is. */
    public LibraryLocation location() {
        return location;
    }

    /**
     * Adds a measurement; one that is there already is left as it is.
     *
     * @param again whether it is added although it was removed once
     */
    public Added add(NewMeasurement measurement, boolean again) throws LibraryException {
        return add(measurement, again, List.of());
    }

    /**
     * Adds a measurement and makes links of it, all or nothing.
     *
     * @param links made after it was added, given its identifier
     */
    public Added add(NewMeasurement measurement, boolean again, List<Link> links) throws LibraryException {
        return database.change(handle -> {
            Added added = measurement.addTo(handle, again);
            for (Link link : links) {
                link.make(handle);
            }
            return added;
        });
    }

    /** The newest measurements that pass a filter, no more than so many. */
    public EntryList page(Filter filter, int most) throws LibraryException {
        return database.read(handle -> Listing.page(handle, location.toString(), filter, most));
    }

    /** Identifiers of all measurements that pass a filter, newest first. */
    public List<String> ids(Filter filter) throws LibraryException {
        return database.read(handle -> Listing.ids(handle, filter));
    }

    /**
     * The measurement with this identifier, of which the first four digits or more are enough where no other begins so.
     */
    public Entry entry(String id) throws LibraryException {
        String start = id.strip().toLowerCase(Locale.ROOT);
        if (!start.matches("[0-9a-f]{" + FEWEST_DIGITS + ",12}")) {
            throw new LibraryException(id
                    + " is no identifier; give its twelve digits 0-9 a-f as ohmprint library list prints them, or the"
                    + " first four or more");
        }
        return database.read(handle -> {
            List<String> ids = Listing.beginning(handle, start);
            if (ids.size() == 1) {
                return Listing.entry(handle, ids.get(0)).orElseThrow(() -> absent(id));
            }
            throw ids.isEmpty()
                    ? absent(id)
                    : new LibraryException(id + " begins several identifiers of library " + location + ", such as "
                            + String.join(" and ", ids) + "; give more digits");
        });
    }

    private LibraryException absent(String id) {
        return new LibraryException(
                "library " + location + " holds no measurement " + id + "; ohmprint library list shows what it holds");
    }

    /** The text of a measurement, as it was added. */
    public String document(Entry entry) throws LibraryException {
        byte[] gzip =
                database.read(handle -> handle.createQuery("SELECT gzip FROM curve_document WHERE measurement = :id")
                        .bind("id", entry.id())
                        .map((r, context) -> r.getBytes(1))
                        .one());
        try {
            String document = Gzip.unpack(gzip);
            if (Sha256.of(document).equals(entry.sha256())) {
                return document;
            }
        } catch (IOException e) {
            throw damaged(entry, e);
        }
        throw damaged(entry, null);
    }

    private LibraryException damaged(Entry entry, @Nullable Exception e) {
        String message = "library " + location + ": the document of " + entry.id()
                + " is damaged; ohmprint library verify looks for more, and a backup has it whole";
        return e == null ? new LibraryException(message) : new LibraryException(message, e);
    }

    /** Links of a measurement. */
    public List<Link> links(Entry entry) throws LibraryException {
        return database.read(handle -> Link.of(handle, entry.id()));
    }

    /** All links. */
    public List<Link> links() throws LibraryException {
        return database.read(handle -> Link.of(handle, null));
    }

    /** Makes a link; returns whether it is new. */
    public boolean link(Link link) throws LibraryException {
        return database.change(handle -> link.make(handle));
    }

    /** Removes a measurement; a record with the reason stays. On a server this takes the role of a keeper. */
    public void remove(Entry entry, String reason, String by) throws LibraryException {
        database.change(handle -> {
            Removal.of(handle, entry, reason, by);
            return entry;
        });
    }

    /** Records of what was removed, oldest first. */
    public List<Removal> removals() throws LibraryException {
        return database.read(Removal::all);
    }

    /** Keeps a specification under a name; a changed text becomes another revision. */
    public KeptSpecification keepSpecification(String name, String yaml, String by) throws LibraryException {
        return database.change(handle -> KeptSpecification.put(handle, name, yaml, by, Instant.now()));
    }

    /** The newest revision of a specification, if there is one of this name. */
    public Optional<KeptSpecification> specification(String name) throws LibraryException {
        return database.read(handle -> KeptSpecification.newest(handle, name));
    }

    /** The newest revisions of all specifications, by name. */
    public List<KeptSpecification> specifications() throws LibraryException {
        return database.read(KeptSpecification::newest);
    }

    /**
     * The measurements most like a shape, likest first, without what was superseded.
     *
     * @param most how many at most
     * @param but identifier of a measurement to leave out, or empty
     */
    public List<Similarity> likest(CurveSignature shape, int most, String but) throws LibraryException {
        return database.read(handle -> Similarity.likest(handle, shape, most, but));
    }

    /** Looks for damage: in the file, in each document, and between documents and columns. */
    public LibraryHealth verify(LibraryHealth.DocumentReader reader) throws LibraryException {
        return database.read(handle -> LibraryHealth.of(handle, location.toString(), isFile(), reader));
    }

    /**
     * Takes in what another library handed out, all or nothing; what is there stays as it is.
     *
     * @param measurements one after the other, so that they need not all be in memory
     * @param links between them, or with what is there
     * @param specifications their newest revisions
     * @return what was taken in, and what was not and why
     */
    public ImportResult takeIn(
            Iterable<NewMeasurement> measurements, List<Link> links, List<KeptSpecification> specifications)
            throws LibraryException {
        return database.change(handle -> ImportResult.of(handle, measurements, links, specifications));
    }

    /** Copies everything into a new library file, which appears whole or not at all. */
    public void backUp(Path file) throws LibraryException {
        Backup.write(database, isFile(), file);
    }

    private boolean isFile() {
        return location instanceof LibraryFile;
    }

    @Override
    public void close() {
        database.close();
    }
}
