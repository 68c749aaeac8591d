package ohmprint.web;

import io.javalin.http.Context;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.Query;

/** What comes with a request: the values of its address, and its body up to a size that is refused. */
final class RequestBodies {
    /** Most bytes of JSON. */
    static final int JSON = 1 << 20;

    /** Most bytes of a file. */
    static final long FILE = 600L << 20;

    /** How long the rest of what is refused is taken in, seconds. */
    private static final int PATIENCE = 5;

    private static final int PIECE = 1 << 16;

    private RequestBodies() {}

    /**
     * What a window asks before it sends: a browser that is still sending when it is refused may never hear why.
     *
     * @param fileBytes most bytes of a file
     */
    record Limits(long fileBytes) {}

    /** More came than may come. */
    static final class TooLargeException extends IOException {
        private static final long serialVersionUID = 1;

        TooLargeException(long most) {
            super("what was sent is larger than the " + (most >> 20)
                    + " MB that the page takes in; copy the file into the folder of the session instead");
        }
    }

    /** The names and values of an address, the first of each. */
    static Query query(Context context) {
        Map<String, String> values = new HashMap<>();
        context.queryParamMap().forEach((key, all) -> values.put(key, all.isEmpty() ? "" : all.get(0)));
        return new Query(values);
    }

    /** The record that comes as JSON. */
    static <T> T read(Context context, Class<T> type) throws BadInputException, IOException {
        return Json.read(json(context), type);
    }

    /** The JSON of a request. */
    static byte[] json(Context context) throws IOException {
        try (InputStream in = limited(context, JSON)) {
            return in.readAllBytes();
        }
    }

    /** The bytes of a file that is sent. */
    static InputStream file(Context context, long most) throws IOException {
        return limited(context, most);
    }

    /**
     * Takes in and forgets the rest of what is refused, for a few seconds at most. A server that answers and hangs up while
     * the other side still sends resets the connection, and the answer is lost with it (RFC 9112, 9.6). Who asks first
     * whether to send at all ({@code Expect: 100-continue}) is not made to.
     */
    static void forget(Context context) {
        if (context.header("Expect") != null) {
            return;
        }
        long until = System.nanoTime() + TimeUnit.SECONDS.toNanos(PATIENCE);
        byte[] piece = new byte[PIECE];
        try {
            InputStream rest = context.bodyInputStream();
            int n = rest.read(piece);
            while (n >= 0 && System.nanoTime() < until) {
                n = rest.read(piece);
            }
        } catch (IOException gone) {
            return;
        }
    }

    private static InputStream limited(Context context, long most) throws IOException {
        if (context.req().getContentLengthLong() > most) {
            throw new TooLargeException(most);
        }
        return new Limited(context.bodyInputStream(), most);
    }

    private static final class Limited extends FilterInputStream {
        private final long most;
        private long seen;

        Limited(InputStream in, long most) {
            super(in);
            this.most = most;
        }

        @Override
        public int read() throws IOException {
            int one = super.read();
            count(one < 0 ? 0 : 1);
            return one;
        }

        @Override
        public int read(byte[] into, int from, int length) throws IOException {
            int n = super.read(into, from, length);
            count(Math.max(0, n));
            return n;
        }

        private void count(int n) throws TooLargeException {
            seen += n;
            if (seen > most) {
                throw new TooLargeException(most);
            }
        }
    }
}
