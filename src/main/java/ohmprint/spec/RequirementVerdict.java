package ohmprint.spec;

import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * The answer to one requirement.
 *
 * @param kind which it is
 * @param words what is required, in words
 * @param conformity the answer
 * @param checks |Z| against its limits, by frequency; none for a resonance
 * @param peak the resonance against its window; null for the others
 * @param reasons why it is undecided beyond uncertainty, a sentence each
 */
public record RequirementVerdict(
        Kind kind,
        String words,
        Conformity conformity,
        List<BandCheck> checks,
        @Nullable PeakCheck peak,
        List<String> reasons) {
    /** Copies the lists. */
    public RequirementVerdict {
        checks = List.copyOf(checks);
        reasons = List.copyOf(reasons);
    }

    /** What was found, a sentence each, without full stop: where it is violated and by how much, or what is left open. */
    public List<String> findings() {
        return new VerdictSentences(this).all();
    }

    /** Kinds of requirements. */
    public enum Kind {
        /** |Z| at one frequency. */
        RATED_IMPEDANCE,
        /** Limits in a range of frequencies. */
        MASK,
        /** Frequency of the greatest |Z|. */
        RESONANCE,
        /** A curve with limits. */
        REFERENCE;

        /** The word used in files: lower case with underscores, as in a specification. */
        public String word() {
            return name().toLowerCase(Locale.ROOT);
        }

        /** The words used in sentences. */
        public String words() {
            return word().replace('_', ' ');
        }
    }
}
