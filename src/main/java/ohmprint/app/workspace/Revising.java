package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Path;
import java.util.concurrent.locks.ReentrantLock;
import ohmprint.app.BadInputException;
import ohmprint.session.Session;
import ohmprint.session.SessionWriter;

/** Changes of a session's manifest, one after another: through the recorder as long as it is open, else in the file. */
final class Revising {
    private final String name;
    private final Path folder;
    private final Places places;
    private final Recorder recorder;
    private final ReentrantLock changing = new ReentrantLock();

    Revising(String name, Path folder, Places places, Recorder recorder) {
        this.name = name;
        this.folder = folder;
        this.places = places;
        this.recorder = recorder;
    }

    /** A change of the session. */
    @FunctionalInterface
    interface Change {
        Session of(Session before) throws BadInputException, IOException;
    }

    /** Work on the folder. */
    @FunctionalInterface
    interface Work<T> {
        T done() throws BadInputException, IOException;
    }

    /**
     * Changes the manifest as a whole.
     *
     * @param after what is done before the next change may begin
     * @return what that returned
     */
    <T> T edit(Change change, Work<T> after) throws BadInputException, IOException {
        changing.lock();
        try {
            if (!recorder.revise(change)) {
                write(change);
            }
            return after.done();
        } catch (IllegalArgumentException e) {
            throw new BadInputException(withoutPlace(String.valueOf(e.getMessage())), e);
        } finally {
            changing.unlock();
        }
    }

    private void write(Change change) throws BadInputException, IOException {
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

    /** Does something with the folder that changes of the manifest must not cross. */
    <T> T alone(Work<T> work) throws BadInputException, IOException {
        changing.lock();
        try {
            return work.done();
        } finally {
            changing.unlock();
        }
    }
}
