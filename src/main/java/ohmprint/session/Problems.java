package ohmprint.session;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** Collects what is wrong, so that it can be reported together. */
final class Problems {
    private static final int MOST_CHARACTERS = 60;

    private final List<ManifestProblem> found = new ArrayList<>();
    private final String manifest;

    Problems(String manifest) {
        this.manifest = manifest;
    }

    /** Something wrong in the manifest itself; line 0 for the whole file. */
    void add(int line, String message) {
        add(manifest, line, message);
    }

    void add(String file, int line, String message) {
        found.add(new ManifestProblem(file, line, message));
    }

    int count() {
        return found.size();
    }

    /** Forgets everything found so far. */
    void clear() {
        found.clear();
    }

    void throwIfAny() throws ManifestException {
        if (!found.isEmpty()) {
            throw exception();
        }
    }

    ManifestException exception() {
        List<ManifestProblem> sorted = new ArrayList<>(found);
        sorted.sort(Comparator.comparing((ManifestProblem p) -> !p.file().equals(manifest))
                .thenComparing(ManifestProblem::file)
                .thenComparingInt(ManifestProblem::line));
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
    static String shown(String value) {
        StringBuilder text = new StringBuilder();
        value.codePoints().limit(MOST_CHARACTERS).map(c -> isPlain(c) ? c : ' ').forEach(text::appendCodePoint);
        return value.codePointCount(0, value.length()) > MOST_CHARACTERS ? text + "…" : text.toString();
    }
}
