package ohmprint.yaml;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import ohmprint.yaml.ManifestException.Problem;

/** Collects what is wrong, so that it can be reported together. */
public final class Problems {
    private static final int MOST_CHARACTERS = 60;

    private final List<Problem> found = new ArrayList<>();
    private final String manifest;

    /**
     * None yet.
     *
     * @param manifest name of the file in messages
     */
    public Problems(String manifest) {
        this.manifest = manifest;
    }

    /** Something wrong in the manifest itself; line 0 for the whole file. */
    public void add(int line, String message) {
        add(manifest, line, message);
    }

    /** Something wrong in a file that the manifest names; line 0 for the whole file. */
    public void add(String file, int line, String message) {
        found.add(new Problem(file, line, message));
    }

    /** How many there are so far. */
    public int count() {
        return found.size();
    }

    /** Forgets everything found so far. */
    public void clear() {
        found.clear();
    }

    /**
     * Ends the reading when something is wrong.
     *
     * @throws ManifestException with all problems so far
     */
    public void throwIfAny() throws ManifestException {
        if (!found.isEmpty()) {
            throw exception();
        }
    }

    /** All problems so far, those of the manifest first, by line. */
    public ManifestException exception() {
        List<Problem> sorted = new ArrayList<>(found);
        sorted.sort(Comparator.comparing((Problem p) -> !p.file().equals(manifest))
                .thenComparing(Problem::file)
                .thenComparingInt(Problem::line));
        return new ManifestException(sorted);
    }

    /** False for what would break the line of a message or turn its direction. */
    private static boolean isPlain(int c) {
        return switch (Character.getType(c)) {
            case Character.CONTROL,
                    Character.FORMAT,
                    Character.LINE_SEPARATOR,
                    Character.PARAGRAPH_SEPARATOR,
                    Character.SURROGATE,
                    Character.UNASSIGNED -> false;
            default -> true;
        };
    }

    /** A value as a message shows it: one line, not too long. */
    public static String shown(String value) {
        StringBuilder text = new StringBuilder();
        value.codePoints().limit(MOST_CHARACTERS).map(c -> isPlain(c) ? c : ' ').forEach(text::appendCodePoint);
        return value.codePointCount(0, value.length()) > MOST_CHARACTERS ? text + "…" : text.toString();
    }
}
