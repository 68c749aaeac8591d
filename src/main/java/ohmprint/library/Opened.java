package ohmprint.library;

import java.util.concurrent.locks.ReentrantLock;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.Jdbi;
import org.jspecify.annotations.Nullable;

/** An open database: how to reach it, and what to do when it is no longer needed. */
final class Opened {
    /** Work within one connection. */
    @FunctionalInterface
    interface Work<T> {
        T on(Handle handle) throws Exception;
    }

    private final LibraryLocation location;
    private final Jdbi jdbi;
    private final Runnable closing;
    private final @Nullable ReentrantLock oneAtATime;

    private Opened(LibraryLocation location, Jdbi jdbi, Runnable closing, @Nullable ReentrantLock oneAtATime) {
        this.location = location;
        this.jdbi = jdbi;
        this.closing = closing;
        this.oneAtATime = oneAtATime;
    }

    /** With one connection, which threads use in turn. */
    static Opened inTurn(LibraryLocation location, Jdbi jdbi, Runnable closing) {
        return new Opened(location, jdbi, closing, new ReentrantLock());
    }

    /** With connections enough for several threads. */
    static Opened pooled(LibraryLocation location, Jdbi jdbi, Runnable closing) {
        return new Opened(location, jdbi, closing, null);
    }

    boolean isFile() {
        return location instanceof LibraryFile;
    }

    LibraryLocation location() {
        return location;
    }

    /** Reads. */
    <T> T read(Work<T> work) throws LibraryException {
        return guarded(() -> jdbi.withHandle(work::on));
    }

    /** Changes things within one transaction: all of it or nothing. */
    <T> T change(Work<T> work) throws LibraryException {
        return guarded(() -> jdbi.inTransaction(work::on));
    }

    void close() {
        closing.run();
    }

    private <T> T guarded(Guarded<T> work) throws LibraryException {
        if (oneAtATime != null) {
            oneAtATime.lock();
        }
        try {
            return work.run();
        } catch (LibraryException e) {
            throw e;
        } catch (Exception e) {
            throw Objection.of(location, e);
        } finally {
            if (oneAtATime != null) {
                oneAtATime.unlock();
            }
        }
    }

    @FunctionalInterface
    private interface Guarded<T> {
        T run() throws Exception;
    }
}
