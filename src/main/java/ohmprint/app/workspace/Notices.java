package ohmprint.app.workspace;

import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicLong;

/** Who listens at a desk, and the number of the last change, which also orders what is told. */
final class Notices {
    private final List<DeskListener> listeners = new CopyOnWriteArrayList<>();
    /** Begins with the time, so that numbers grow beyond a new start of the program. */
    private final AtomicLong revision = new AtomicLong(System.currentTimeMillis());

    /** Adds one who listens. */
    void add(DeskListener listener) {
        listeners.add(listener);
    }

    /** Takes one out. */
    void remove(DeskListener listener) {
        listeners.remove(listener);
    }

    /** Number of the last change. */
    long revision() {
        return revision.get();
    }

    /** Counts a change. */
    void changed() {
        revision.incrementAndGet();
    }

    /** Tells all who listen. */
    void tell(String kind, Object content) {
        DeskEvent event = new DeskEvent(revision.get(), kind, content);
        listeners.forEach(l -> l.happened(event));
    }

    /** Tells all who listen something worth a word. */
    void note(String message) {
        tell("note", new DeskEvent.Note(message));
    }
}
