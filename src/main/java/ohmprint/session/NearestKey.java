package ohmprint.session;

import java.util.Collection;
import java.util.Locale;
import java.util.Optional;

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
        int[] row = new int[b.length() + 1];
        for (int j = 0; j <= b.length(); j++) {
            row[j] = j;
        }
        for (int i = 1; i <= a.length(); i++) {
            int diagonal = row[0];
            row[0] = i;
            for (int j = 1; j <= b.length(); j++) {
                int replaced = diagonal + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
                diagonal = row[j];
                row[j] = Math.min(replaced, Math.min(row[j], row[j - 1]) + 1);
            }
        }
        return row[b.length()];
    }
}
