package ohmprint.manifest;

import java.util.List;
import java.util.stream.Collectors;

/** A manifest that cannot be used, with everything that was found wrong with it. */
public final class ManifestException extends Exception {
    private static final long serialVersionUID = 1;
    private static final int MOST_SHOWN = 50;

    private final transient List<ManifestProblem> problems;

    /**
     * A manifest with these problems.
     *
     * @param problems what is wrong, one or more
     */
    public ManifestException(List<ManifestProblem> problems) {
        super(text(problems));
        this.problems = List.copyOf(problems);
    }

    /** What is wrong, in the order of files and lines. */
    public List<ManifestProblem> problems() {
        return problems;
    }

    /** One line for each problem; of very many only the first 50. */
    private static String text(List<ManifestProblem> problems) {
        String shown = problems.stream()
                .limit(MOST_SHOWN)
                .map(ManifestProblem::toString)
                .collect(Collectors.joining("\n"));
        int more = problems.size() - MOST_SHOWN;
        return more > 0 ? shown + "\nand " + more + " more" : shown;
    }
}
