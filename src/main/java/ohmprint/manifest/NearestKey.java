package ohmprint.manifest;

import java.util.Collection;
import java.util.Locale;
import java.util.Optional;
import org.apache.commons.text.similarity.LevenshteinDistance;

/** Finds the key that was probably meant. */
final class NearestKey {
    private static final int LONGEST = 60;

    private NearestKey() {}

    /** The known key nearest to a mistyped one, unless nothing is near. */
    static Optional<String> to(String typed, Collection<String> known) {
        String wanted = typed.toLowerCase(Locale.ROOT).replace('-', '_').replace(' ', '_');
        String best = null;
        int least = Integer.MAX_VALUE;
        for (String key : known) {
            int distance = distance(wanted, key);
            if (distance < least) {
                least = distance;
                best = key;
            }
        }
        boolean near = best != null && least <= Math.max(1, Math.max(best.length(), wanted.length()) / 3);
        if (!near && wanted.length() >= 4) {
            return known.stream().filter(key -> key.startsWith(wanted)).findFirst();
        }
        return near ? Optional.ofNullable(best) : Optional.empty();
    }

    /** Insertions, deletions and replacements that turn a into b (Levenshtein 1966). */
    static int distance(String a, String b) {
        if (a.length() > LONGEST) {
            return Integer.MAX_VALUE;
        }
        return LevenshteinDistance.getDefaultInstance().apply(a, b);
    }
}
