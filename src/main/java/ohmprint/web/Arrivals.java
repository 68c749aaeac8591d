package ohmprint.web;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.time.Duration;
import java.util.concurrent.Executor;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.http.HttpStatus;
import org.eclipse.jetty.io.Content;
import org.eclipse.jetty.server.Handler;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.util.Callback;
import org.eclipse.jetty.util.thread.Invocable;
import org.eclipse.jetty.util.thread.Scheduler;
import org.jspecify.annotations.Nullable;

/**
 * How bodies arrive, so that none of them can hold the page up. A small body (JSON) is read without a thread and goes on
 * when it is there. A file is read by a thread as it comes, and at most {@link #UPLOADS} at once; the next one gets 503.
 * What no address reads, such as the body of a GET, is not read. Every body has to come within the {@link Patience}; one that
 * does not gets 408.
 */
final class Arrivals extends Handler.Wrapper {
    /** Most files that are taken in at once. */
    static final int UPLOADS = 8;

    /** Most bytes of small bodies that are on their way or in work at once. */
    private static final long SMALL_TOGETHER = 64L << 20;

    /** How long the rest of what is turned away is taken in, so that the sender hears why; see {@link RequestBodies#forget}. */
    private static final Duration PARTING = Duration.ofSeconds(5);

    private static final String AGAIN_AFTER_SECONDS = "5";

    private final Patience patience;
    private final Semaphore uploads = new Semaphore(UPLOADS);
    private final AtomicLong small = new AtomicLong();

    Arrivals(Patience patience) {
        this.patience = patience;
    }

    /**
     * How slow a body may be: no pause longer than {@code pause}, and n bytes within {@code grace + n / bytesPerSecond}.
     *
     * @param pause longest time without a byte
     * @param grace time that any body may take
     * @param bytesPerSecond rate beyond that
     */
    record Patience(Duration pause, Duration grace, long bytesPerSecond) {
        /** For browsers on this computer, and for those at the other end of a slow tunnel. */
        static final Patience USUAL = new Patience(Duration.ofSeconds(20), Duration.ofSeconds(20), 1 << 16);

        /** How much longer one may wait for the next byte. */
        private long nanos(long seen, long sinceNanos) {
            double all = grace.toNanos() + (double) seen / bytesPerSecond * TimeUnit.SECONDS.toNanos(1);
            return Math.min(pause.toNanos(), (long) all - sinceNanos);
        }
    }

    /** A body did not come in time. */
    static final class TooSlowException extends IOException {
        private static final long serialVersionUID = 1;

        TooSlowException(long seen) {
            super("the request came too slowly: " + seen + " bytes of its body had arrived when its time was over;"
                    + " check the connection and send it again");
        }
    }

    @Override
    public boolean handle(Request request, Response response, Callback callback) throws Exception {
        if (AccessFilter.isReading(request)) {
            return super.handle(new Whole(request, new byte[0]), response, callback);
        }
        String type = AccessFilter.bodyType(request);
        if (AccessFilter.FILE.equals(type)) {
            return upload(request, response, callback);
        }
        boolean tooLarge = request.getLength() > RequestBodies.JSON;
        if (type == null || request.getLength() == 0 || (tooLarge && asksFirst(request))) {
            return super.handle(new Whole(request, new byte[0]), response, callback);
        }
        collect(request, response, callback);
        return true;
    }

    /** Who asks first whether to send at all is not made to by reading. */
    private static boolean asksFirst(Request request) {
        return request.getHeaders().contains(HttpHeader.EXPECT);
    }

    private boolean upload(Request request, Response response, Callback callback) throws Exception {
        if (!uploads.tryAcquire()) {
            turnAway(
                    request,
                    response,
                    callback,
                    UPLOADS + " files are being taken in already, which is the most at once");
            return true;
        }
        Runnable release = once(uploads::release);
        boolean taken = false;
        try {
            taken = super.handle(new Patient(request, patience), response, Callback.from(callback, release));
        } finally {
            if (!taken) {
                release.run();
            }
        }
        return taken;
    }

    private static Runnable once(Runnable action) {
        AtomicBoolean done = new AtomicBoolean();
        return () -> {
            if (done.compareAndSet(false, true)) {
                action.run();
            }
        };
    }

    private static void turnAway(Request request, Response response, Callback callback, String why) {
        Runnable answer = () -> {
            response.getHeaders().put(HttpHeader.RETRY_AFTER, AGAIN_AFTER_SECONDS);
            refuse(response, callback, HttpStatus.SERVICE_UNAVAILABLE_503, why + "; send it again in a few seconds");
        };
        if (asksFirst(request)) {
            answer.run();
        } else {
            Patience parting = new Patience(PARTING, PARTING, Long.MAX_VALUE);
            new Collector(new Patient(request, parting), 0, all -> true, (bytes, failure) -> answer.run()).run();
        }
    }

    private void collect(Request request, Response response, Callback callback) {
        AtomicLong counted = new AtomicLong();
        Runnable forget = once(() -> small.addAndGet(-counted.get()));
        Callback counting = Callback.from(callback, forget);
        Consumed fits = n -> {
            counted.addAndGet(n);
            return small.addAndGet(n) <= SMALL_TOGETHER;
        };
        // One byte more than may come is kept, so that whoever reads it sees that it is too much.
        new Collector(new Patient(request, patience), RequestBodies.JSON + 1, fits, (bytes, failure) -> {
                    if (failure == null || bytes.length > RequestBodies.JSON) {
                        goOn(new Whole(request, bytes), response, counting);
                    } else if (failure instanceof TooSlowException slow) {
                        refuse(response, counting, HttpStatus.REQUEST_TIMEOUT_408, String.valueOf(slow.getMessage()));
                    } else if (failure instanceof FullException) {
                        turnAway(request, response, counting, "the page is taking in as many requests as it can");
                    } else {
                        refuse(response, counting, HttpStatus.BAD_REQUEST_400, "the request broke off");
                    }
                })
                .run();
    }

    private void goOn(Request request, Response response, Callback callback) {
        try {
            if (!super.handle(request, response, callback)) {
                Response.writeError(request, response, callback, HttpStatus.NOT_FOUND_404);
            }
        } catch (Exception e) {
            Response.writeError(request, response, callback, e);
        }
    }

    private static void refuse(Response response, Callback callback, int status, String why) {
        response.setStatus(status);
        response.getHeaders().put(HttpHeader.CONTENT_TYPE, Json.TYPE);
        response.getHeaders().put(HttpHeader.CONNECTION, "close");
        response.write(true, ByteBuffer.wrap(Json.refusal(why)), callback);
    }

    /** No room for more. */
    private static final class FullException extends IOException {
        private static final long serialVersionUID = 1;
    }

    /** Whether so many more bytes may be kept. */
    @FunctionalInterface
    private interface Consumed {
        boolean fits(int more);
    }

    /** Hears what was kept of a body, and why it did not come whole, or null when it did. */
    @FunctionalInterface
    private interface Collected {
        void done(byte[] bytes, @Nullable Throwable failure);
    }

    /** Reads a body as it comes, without a thread that waits for it; keeps its beginning and forgets the rest. */
    private static final class Collector implements Runnable {
        private final Request body;
        private final int keep;
        private final Consumed room;
        private final Collected collected;
        private final ByteArrayOutputStream kept = new ByteArrayOutputStream();

        Collector(Request body, int keep, Consumed room, Collected collected) {
            this.body = body;
            this.keep = keep;
            this.room = room;
            this.collected = collected;
        }

        @Override
        public void run() {
            while (true) {
                Content.Chunk chunk = body.read();
                if (chunk == null) {
                    body.demand(this);
                    return;
                }
                if (Content.Chunk.isFailure(chunk)) {
                    collected.done(kept.toByteArray(), chunk.getFailure());
                    return;
                }
                boolean last = chunk.isLast();
                boolean room = take(chunk);
                if (!room) {
                    collected.done(new byte[0], new FullException());
                    return;
                }
                if (last) {
                    collected.done(kept.toByteArray(), null);
                    return;
                }
            }
        }

        private boolean take(Content.Chunk chunk) {
            try {
                byte[] some = new byte[Math.min(chunk.remaining(), keep - kept.size())];
                chunk.getByteBuffer().get(some);
                kept.writeBytes(some);
                return some.length == 0 || room.fits(some.length);
            } finally {
                chunk.release();
            }
        }
    }

    /** A request whose body is there already. */
    private static final class Whole extends Request.Wrapper {
        private final Content.Source body;

        Whole(Request request, byte[] body) {
            super(request);
            this.body = Content.Source.from(ByteBuffer.wrap(body));
        }

        @Override
        public Content.Chunk read() {
            return body.read();
        }

        @Override
        public void demand(Runnable available) {
            body.demand(available);
        }

        @Override
        public void fail(Throwable failure) {
            body.fail(failure);
        }

        @Override
        public boolean consumeAvailable() {
            return true;
        }
    }

    /** A request whose body fails when it does not come in time. */
    private static final class Patient extends Request.Wrapper {
        private final Patience patience;
        private final long since = System.nanoTime();
        private final AtomicLong seen = new AtomicLong();
        private volatile @Nullable TooSlowException late;

        Patient(Request request, Patience patience) {
            super(request);
            this.patience = patience;
        }

        @Override
        public Content.@Nullable Chunk read() {
            TooSlowException over = late;
            if (over != null) {
                return Content.Chunk.from(over, true);
            }
            Content.Chunk chunk = super.read();
            if (chunk != null && !Content.Chunk.isFailure(chunk)) {
                seen.addAndGet(chunk.remaining());
            }
            return chunk;
        }

        @Override
        public void demand(Runnable available) {
            Executor executor = getComponents().getExecutor();
            long nanos = patience.nanos(seen.get(), System.nanoTime() - since);
            if (late != null || nanos <= 0) {
                giveUp();
                executor.execute(available);
                return;
            }
            AtomicReference<@Nullable Runnable> waiting = new AtomicReference<>(available);
            Consumer<Consumer<Runnable>> first = action -> {
                Runnable then = waiting.getAndSet(null);
                if (then != null) {
                    action.accept(then);
                }
            };
            Scheduler.Task timeout = getComponents()
                    .getScheduler()
                    .schedule(
                            () -> first.accept(then -> {
                                giveUp();
                                executor.execute(then);
                            }),
                            nanos,
                            TimeUnit.NANOSECONDS);
            // The same kind of invocation, because one that may block needs a thread of its own from the pool.
            super.demand(Invocable.from(
                    Invocable.getInvocationType(available),
                    () -> first.accept(then -> {
                        timeout.cancel();
                        then.run();
                    })));
        }

        private void giveUp() {
            if (late == null) {
                late = new TooSlowException(seen.get());
            }
        }
    }
}
