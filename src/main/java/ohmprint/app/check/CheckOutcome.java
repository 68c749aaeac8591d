package ohmprint.app.check;

import java.nio.file.Path;
import java.util.List;
import ohmprint.conformity.Specification;
import ohmprint.conformity.Verdict;
import ohmprint.impedance.Finding;
import ohmprint.impedance.Measurement;
import org.jspecify.annotations.Nullable;

/**
 * What came of a check: the decision itself, and the same in words for those who print it.
 *
 * @param measurement what was checked
 * @param specification what was required
 * @param decided the decision
 * @param verdict within, outside or undecided
 * @param requirements the answer to each requirement, in words
 * @param reasons why nothing can be decided, a sentence each; mostly none
 * @param notes what the reader should know besides, a sentence each
 * @param causes what may be behind it; none unless the verdict is outside
 * @param json the verdict as one JSON object in one line
 * @param folder folder that holds the files, or null when none were wanted
 * @param files names of the files in it
 */
public record CheckOutcome(
        Measurement measurement,
        Specification specification,
        Verdict decided,
        String verdict,
        List<Requirement> requirements,
        List<String> reasons,
        List<String> notes,
        List<Cause> causes,
        String json,
        @Nullable Path folder,
        List<String> files) {
    /** Copies the lists. */
    public CheckOutcome {
        requirements = List.copyOf(requirements);
        reasons = List.copyOf(reasons);
        notes = List.copyOf(notes);
        causes = List.copyOf(causes);
        files = List.copyOf(files);
    }

    CheckOutcome writtenTo(Path folder, List<String> files) {
        return new CheckOutcome(
                measurement,
                specification,
                decided,
                verdict,
                requirements,
                reasons,
                notes,
                causes,
                json,
                folder,
                files);
    }

    /** Name of the specification. */
    public String specificationName() {
        return specification.name();
    }

    /** Findings of the measurement. */
    public List<Finding> findings() {
        return measurement.findings();
    }

    /**
     * The answer to one requirement.
     *
     * @param kind which it is, in words
     * @param requires what is required, in words
     * @param verdict within, outside or undecided
     * @param findings what was found, a sentence each
     */
    public record Requirement(String kind, String requires, String verdict, List<String> findings) {
        /** Copies the list. */
        public Requirement {
            findings = List.copyOf(findings);
        }
    }

    /**
     * What may be behind a deviation: common practice, no source.
     *
     * @param pattern the shape that was seen
     * @param cause what usually is behind it
     * @param confirm the step that confirms it
     * @param caution what to mind with that step
     */
    public record Cause(String pattern, String cause, String confirm, String caution) {}
}
