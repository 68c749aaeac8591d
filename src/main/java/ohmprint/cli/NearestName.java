package ohmprint.cli;

import java.util.Collection;
import java.util.Optional;
import org.apache.commons.text.similarity.LevenshteinDistance;

/** Finds the option or command that was probably meant. */
final class NearestName {
    private static final int LONGEST = 40;

    private NearestName() {}

    /** The known name nearest to a mistyped one by edits, unless more than a third of it would have to change. */
    static Optional<String> to(String typed, Collection<String> known) {
        String best = null;
        int least = Integer.MAX_VALUE;
        for (String name : known) {
            int edits = name.startsWith(typed) && typed.length() > 3 ? 1 : edits(typed, name);
            if (edits < least && edits <= Math.max(1, letters(name) / 3 + 1)) {
                least = edits;
                best = name;
            }
        }
        return Optional.ofNullable(best);
    }

    private static int letters(String name) {
        return name.startsWith("--") ? name.length() - 2 : name.length();
    }

    /** Insertions, deletions and replacements that turn a into b (Levenshtein 1966). */
    private static int edits(String a, String b) {
        if (a.length() > LONGEST) {
            return Integer.MAX_VALUE;
        }
        return LevenshteinDistance.getDefaultInstance().apply(a, b);
    }
}
