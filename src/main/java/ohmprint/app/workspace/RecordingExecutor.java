package ohmprint.app.workspace;

import java.io.IOException;
import java.util.concurrent.CancellationException;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Consumer;
import ohmprint.app.BadInputException;

/** The one thread that drives a recording. It does one thing at a time; what is asked of it meanwhile is refused. */
final class RecordingExecutor {
    private static final int ENDS_WITHIN_SECONDS = 10;

    private final String name;
    private final ExecutorService thread;
    private final AtomicBoolean busy = new AtomicBoolean();

    /**
     * A thread.
     *
     * @param name what it drives, for messages
     */
    RecordingExecutor(String name) {
        this.name = name;
        this.thread = Executors.newSingleThreadExecutor(work -> {
            Thread made = new Thread(work, name);
            made.setDaemon(true);
            return made;
        });
    }

    /** Work. */
    @FunctionalInterface
    interface Action {
        void run() throws BadInputException, IOException;
    }

    /** True while it works. */
    boolean isBusy() {
        return busy.get();
    }

    private void take() throws ConflictException {
        if (!busy.compareAndSet(false, true)) {
            throw new ConflictException("the " + name
                    + " is at work, so this cannot be done now; wait for the end of the sound, or cancel it");
        }
    }

    /**
     * Does something and waits for it.
     *
     * @throws ConflictException if it is at work
     */
    void now(Action action) throws BadInputException, IOException {
        take();
        try {
            waited(action, Long.MAX_VALUE);
        } finally {
            busy.set(false);
        }
    }

    /**
     * Begins something that lasts.
     *
     * @param check throws what speaks against it
     * @param action what is done
     * @param failed hears in words why it failed
     * @param cancelled is told when it was cancelled
     * @param ended is told when it has ended in any way
     * @throws ConflictException if it is at work
     */
    void begin(Action check, Action action, Consumer<String> failed, Runnable cancelled, Runnable ended)
            throws BadInputException, IOException {
        take();
        boolean begun = false;
        try {
            check.run();
            thread.execute(() -> {
                try {
                    action.run();
                } catch (CancellationException e) {
                    cancelled.run();
                } catch (BadInputException | IOException e) {
                    failed.accept(String.valueOf(e.getMessage()));
                } catch (RuntimeException e) {
                    failed.accept("this is a fault of the program: " + e);
                } finally {
                    busy.set(false);
                    ended.run();
                }
            });
            begun = true;
        } finally {
            if (!begun) {
                busy.set(false);
            }
        }
    }

    /**
     * Does something after what is being done, which somebody has cancelled.
     *
     * @throws ConflictException if that does not end
     */
    void after(Action action) throws BadInputException, IOException {
        waited(action, ENDS_WITHIN_SECONDS);
    }

    private void waited(Action action, long seconds) throws BadInputException, IOException {
        try {
            thread.submit(() -> {
                        action.run();
                        return true;
                    })
                    .get(seconds, TimeUnit.SECONDS);
        } catch (ExecutionException e) {
            Throwable cause = e.getCause();
            rethrow(cause == null ? e : cause);
        } catch (TimeoutException e) {
            throw new ConflictException("the sound device does not let go; take it off and try again");
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IOException(
                    "the " + name + " was interrupted; see where the recording stands and do it again", e);
        }
    }

    private static void rethrow(Throwable cause) throws BadInputException, IOException {
        if (cause instanceof BadInputException bad) {
            throw bad;
        }
        if (cause instanceof IOException io) {
            throw io;
        }
        if (cause instanceof IllegalStateException state) {
            throw new ConflictException(String.valueOf(state.getMessage()));
        }
        if (cause instanceof IllegalArgumentException argument) {
            throw argument;
        }
        throw new IllegalStateException("the recorder failed", cause);
    }

    /** Ends it. */
    void end() {
        thread.shutdown();
    }
}
