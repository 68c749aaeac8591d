package ohmprint.app.workspace;

import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** What was made with some effort and may be asked for again: the values that were used last, for several threads. */
final class RecentlyUsed<K, V> {
    private final Map<K, V> values;

    /**
     * Nothing as yet.
     *
     * @param most how many values are kept
     */
    RecentlyUsed(int most) {
        values = new LinkedHashMap<>(16, 0.75f, true) {
            @Override
            protected boolean removeEldestEntry(Map.Entry<K, V> eldest) {
                return size() > most;
            }
        };
    }

    synchronized @Nullable V get(K key) {
        return values.get(key);
    }

    synchronized void put(K key, V value) {
        values.put(key, value);
    }

    synchronized void remove(K key) {
        values.remove(key);
    }
}
