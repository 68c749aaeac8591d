package ohmprint.estimation;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.function.IntFunction;
import org.jspecify.annotations.Nullable;

/** Takes side by side: the natural grain of the work, one take per processor. */
public final class Parallel {
    private Parallel() {}

    /** A function that may fail to read. */
    @FunctionalInterface
    public interface Reading<T, R extends @Nullable Object> {
        /**
         * Works on one item.
         *
         * @throws IOException if it cannot be read
         */
        R apply(T item) throws IOException;
    }

    /**
     * Maps a list in parallel, keeping its order.
     *
     * @param items what to work on
     * @param work what to do with each
     * @param array makes the array of results
     * @throws IOException what the work threw first
     */
    public static <T, R extends @Nullable Object> R[] map(List<T> items, Reading<T, R> work, IntFunction<R[]> array)
            throws IOException {
        try {
            return items.parallelStream()
                    .map(item -> {
                        try {
                            return work.apply(item);
                        } catch (IOException e) {
                            throw new UncheckedIOException(e);
                        }
                    })
                    .toArray(array);
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
    }
}
