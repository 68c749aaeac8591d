package ohmprint.conformity;

import java.util.List;

/**
 * Whether a measurement meets a specification.
 *
 * @param conformity the answer
 * @param requirements the answer to each requirement; none when nothing can be decided about the whole
 * @param reasons why nothing can be decided, a sentence each; mostly none
 * @param notes what the reader should know besides, a sentence each
 */
public record Verdict(
        Conformity conformity, List<RequirementVerdict> requirements, List<String> reasons, List<String> notes) {
    /** Copies the lists. */
    public Verdict {
        requirements = List.copyOf(requirements);
        reasons = List.copyOf(reasons);
        notes = List.copyOf(notes);
    }

    /** True when a requirement of this kind was found violated. */
    public boolean isOutside(RequirementVerdict.Kind kind) {
        return requirements.stream().anyMatch(r -> r.kind() == kind && r.conformity() == Conformity.OUTSIDE);
    }
}
