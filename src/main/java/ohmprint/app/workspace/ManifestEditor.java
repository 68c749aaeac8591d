package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.locks.Lock;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.TakeFiles;
import ohmprint.app.record.SessionFolder;
import ohmprint.impedance.Microphone;
import ohmprint.session.Session;
import ohmprint.session.SessionWriter;
import ohmprint.session.Take;

/**
 * Changes of a session's manifest as it is filled in, one after another: through the recorder as long as it is open, else in
 * the file. Takes are entries here; recordings themselves are never changed or removed.
 */
public final class ManifestEditor {
    private final String name;
    private final Path folder;
    private final PathGuard places;
    private final Lock changing;
    private final Revision open;
    private final Changed changed;

    /**
     * An editor.
     *
     * @param name name of the session
     * @param folder folder of it
     * @param changing held during each change
     * @param open changes the session where it is open in the recorder
     * @param changed is told of each change before the next may begin
     */
    ManifestEditor(String name, Path folder, PathGuard places, Lock changing, Revision open, Changed changed) {
        this.name = name;
        this.folder = folder;
        this.places = places;
        this.changing = changing;
        this.open = open;
        this.changed = changed;
    }

    /** Changes a session that is held open; false when it is not. */
    @FunctionalInterface
    interface Revision {
        boolean revise(Manifest.Edit<Session> change) throws BadInputException, IOException;
    }

    /** Tells all who listen how things stand after a change, and returns it. */
    @FunctionalInterface
    interface Changed {
        SessionView tell() throws IOException;
    }

    /** Changes the microphone; the change gets what it is like now. */
    public SessionView microphone(Manifest.Edit<Microphone> edit) throws BadInputException, IOException {
        return edit(s -> s.withMicrophone(Manifest.microphone(edit.of(s.microphone()))));
    }

    /** Changes the recording input, likewise. */
    public SessionView input(Manifest.Edit<Manifest.InputEntry> edit) throws BadInputException, IOException {
        return edit(s -> edit.of(Manifest.InputEntry.of(s)).into(s, places));
    }

    /** States what was played. */
    public SessionView stimulus(Manifest.StimulusEntry entry) throws BadInputException, IOException {
        if (entry.file() != null) {
            places.existing(folder, entry.file());
        }
        return edit(s -> s.withStimulus(entry.stimulus()));
    }

    /** Makes a recording of the folder a take. */
    public SessionView addTake(Manifest.TakeEntry entry) throws BadInputException, IOException {
        Take take = entry.take();
        check(take);
        return edit(s -> s.withTake(take));
    }

    /** Changes the entry of a take; its file stays. */
    public SessionView changeTake(String file, Manifest.Edit<Manifest.TakeEntry> edit)
            throws BadInputException, IOException {
        return edit(s -> {
            List<Take> takes = new ArrayList<>(s.takes());
            int at = indexOf(s, file);
            Take after = edit.of(Manifest.TakeEntry.of(takes.get(at))).take();
            if (!after.file().equals(file)) {
                throw new BadInputException("the file of the take " + file + " cannot become " + after.file()
                        + "; take it out of the session and add the other");
            }
            check(after);
            takes.set(at, after);
            return s.withTakes(takes);
        });
    }

    /** Takes an entry out of the session; the recording stays in the folder. */
    public SessionView removeTake(String file) throws BadInputException, IOException {
        return edit(s -> {
            List<Take> takes = new ArrayList<>(s.takes());
            takes.remove(indexOf(s, file));
            return s.withTakes(takes);
        });
    }

    /** Refuses what a session could not be read with. */
    private void check(Take take) throws BadInputException, IOException {
        if (SessionFolder.isUnfinished(take.file())) {
            throw new ConflictException(take.file() + " is being recorded or was broken off; open the recorder, which"
                    + " gives it its name");
        }
        Path file = places.existing(folder, take.file());
        int channels;
        try {
            channels = TakeFiles.probe().shape(file).channels();
        } catch (IOException e) {
            throw new BadInputException(take.file() + " cannot be read as audio; export it again as WAV", e);
        }
        Integer reference = take.referenceChannel();
        int highest = Math.max(take.channel(), reference == null ? 1 : reference);
        if (highest > channels || take.channel() < 1 || (reference != null && reference < 1)) {
            throw new BadInputException(take.file() + " has " + channels + (channels == 1 ? " channel" : " channels")
                    + ", so there is no channel " + (highest > channels ? highest : 0) + "; correct the number");
        }
    }

    private static int indexOf(Session session, String file) throws MissingException {
        for (int k = 0; k < session.takes().size(); k++) {
            if (session.takes().get(k).file().equals(file)) {
                return k;
            }
        }
        throw new MissingException("the session has no take " + file + "; reload the page to see which takes it has");
    }

    /** Changes the manifest as a whole. */
    private SessionView edit(Manifest.Edit<Session> change) throws BadInputException, IOException {
        changing.lock();
        try {
            if (!open.revise(change)) {
                write(change);
            }
            return changed.tell();
        } catch (IllegalArgumentException e) {
            throw new BadInputException(withoutPlace(String.valueOf(e.getMessage())), e);
        } finally {
            changing.unlock();
        }
    }

    private void write(Manifest.Edit<Session> change) throws BadInputException, IOException {
        Manifest manifest = Manifest.read(folder, places);
        Session before = manifest.session();
        if (before == null) {
            throw new ConflictException("the manifest of " + name + " cannot be changed as long as it cannot be"
                    + " understood: " + manifest.problem());
        }
        Session after = change.of(before);
        if (!after.equals(before)) {
            SessionWriter.write(after);
        }
    }

    /** What is wrong with a value, without the line of a manifest that was never written. */
    private static String withoutPlace(String message) {
        return message.replaceFirst("^the session could not be read back: session\\.yaml:[0-9]+: ", "");
    }
}
