package ohmprint.app.check;

import java.nio.file.Path;
import java.util.List;
import ohmprint.conformity.FaultPatterns.PossibleCause;
import ohmprint.conformity.RequirementVerdict;
import ohmprint.conformity.Specification;
import ohmprint.conformity.Verdict;
import ohmprint.impedance.Finding;
import ohmprint.impedance.Measurement;
import org.jspecify.annotations.Nullable;

/**
 * What came of a check.
 *
 * @param measurement what was checked
 * @param specification what was required
 * @param decided the decision
 * @param causes what may be behind it; none unless the verdict is outside
 * @param json the verdict as one JSON object in one line
 * @param folder folder that holds the files, or null when none were wanted
 * @param files names of the files in it
 */
public record CheckOutcome(
        Measurement measurement,
        Specification specification,
        Verdict decided,
        List<PossibleCause> causes,
        String json,
        @Nullable Path folder,
        List<String> files) {
    /** Copies the lists. */
    public CheckOutcome {
        causes = List.copyOf(causes);
        files = List.copyOf(files);
    }

    /** The decision in a word: {@code within}, {@code outside} or {@code undecided}. */
    public String verdict() {
        return decided.conformity().word();
    }

    /** The answer to each requirement. */
    public List<RequirementVerdict> requirements() {
        return decided.requirements();
    }

    /** Why nothing can be decided, a sentence each; mostly none. */
    public List<String> reasons() {
        return decided.reasons();
    }

    /** What the reader should know besides, a sentence each. */
    public List<String> notes() {
        return decided.notes();
    }

    /** Name of the specification. */
    public String specificationName() {
        return specification.name();
    }

    /** Findings of the measurement. */
    public List<Finding> findings() {
        return measurement.findings();
    }
}
