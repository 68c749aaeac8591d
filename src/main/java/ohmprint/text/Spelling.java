package ohmprint.text;

import org.apache.commons.text.similarity.LevenshteinDistance;

/** How far a mistyped word is from a known one. */
public final class Spelling {
    /** No known word is near to a longer one, and comparing would take its time. */
    private static final int LONGEST = 60;

    private Spelling() {}

    /**
     * Insertions, deletions and replacements that turn one word into another (Levenshtein 1966).
     *
     * @param typed what was typed; of more than 60 characters it is near to nothing
     * @param known a known word
     */
    public static int edits(String typed, String known) {
        return typed.length() > LONGEST
                ? Integer.MAX_VALUE
                : LevenshteinDistance.getDefaultInstance().apply(typed, known);
    }
}
