package ohmprint.yaml;

import java.util.List;
import java.util.stream.Collectors;

/** A manifest that cannot be used, with everything that was found wrong with it. */
public final class ManifestException extends Exception {
    private static final long serialVersionUID = 1;
    private static final int MOST_SHOWN = 50;

    private final transient List<Problem> problems;

    /**
     * A manifest with these problems.
     *
     * @param problems what is wrong, one or more
     */
    public ManifestException(List<Problem> problems) {
        super(text(problems));
        this.problems = List.copyOf(problems);
    }

    /** What is wrong, in the order of files and lines. */
    public List<Problem> problems() {
        return problems;
    }

    /** One line for each problem; of very many only the first 50. */
    private static String text(List<Problem> problems) {
        String shown =
                problems.stream().limit(MOST_SHOWN).map(Problem::toString).collect(Collectors.joining("\n"));
        int more = problems.size() - MOST_SHOWN;
        return more > 0 ? shown + "\nand " + more + " more" : shown;
    }

    /**
     * One thing that is wrong with a manifest or a file it names.
     *
     * @param file name of the file that has to be corrected
     * @param line line in it, from 1; 0 when it concerns the whole file
     * @param message what is wrong and what to do
     */
    public record Problem(String file, int line, String message) {
        /** One line: {@code session.yaml:7: takes[1].load_ohm is 0 Ω; …}. */
        @Override
        public String toString() {
            return line > 0 ? file + ":" + line + ": " + message : file + ": " + message;
        }
    }
}
