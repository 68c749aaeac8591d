package ohmprint.app.workspace;

import java.io.IOException;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.check.CheckCurve;
import ohmprint.app.check.CheckOutcome;
import ohmprint.app.library.LibraryConnection;
import ohmprint.app.library.ReadLibrary;
import ohmprint.conformity.BandCheck;
import ohmprint.conformity.PeakCheck;
import ohmprint.conformity.RequirementVerdict;
import ohmprint.conformity.Specification;
import ohmprint.impedance.Finding;
import org.jspecify.annotations.Nullable;

/** Whether curves keep to their limits. */
public final class ConformityService {
    private static final String OWN_TEXT = "these limits";

    private final LibraryConnection library;
    private final CurveRepository curves;

    ConformityService(LibraryConnection library, CurveRepository curves) {
        this.library = library;
        this.curves = curves;
    }

    /** Checks a curve against a specification. */
    public Outcome check(Request form) throws BadInputException, IOException {
        String name = form.specification();
        String yaml = form.yaml();
        if ((name == null) == (yaml == null)) {
            throw new BadInputException((name == null ? "no limits are given" : "limits are given twice")
                    + "; give the name of a specification in the library, or a text");
        }
        Specification specification = name != null
                ? curves.specification(ReadLibrary.specification(library, name), name)
                : curves.specification(yaml == null ? "" : yaml, OWN_TEXT);
        return Outcome.of(CheckCurve.decide(curves.stored(form.ref()).measurement(), specification));
    }

    /**
     * What to check, against a specification of the library or one that comes as a text.
     *
     * @param curve name of the curve
     * @param specification name of a specification in the library, or null
     * @param yaml text of a specification, or null
     */
    public record Request(
            @Nullable String curve,
            @Nullable String specification,
            @Nullable String yaml) {
        String ref() throws BadInputException {
            if (curve == null || curve.isBlank()) {
                throw new BadInputException("no curve is named; name one as session:NAME or library:ID");
            }
            return curve;
        }
    }

    /**
     * What came of a check, in plain values.
     *
     * @param verdict {@code within}, {@code outside} or {@code undecided}
     * @param specification name of the specification
     * @param reasons why nothing can be decided, sentences; mostly none
     * @param notes what the reader should know besides, sentences
     * @param requirements the answer to each requirement
     * @param causes what may be behind it
     * @param findings findings of the measurement
     */
    public record Outcome(
            String verdict,
            String specification,
            List<String> reasons,
            List<String> notes,
            List<Requirement> requirements,
            List<CheckOutcome.Cause> causes,
            List<Finding> findings) {
        /**
         * The answer to one requirement.
         *
         * @param kind which it is, in words
         * @param requires what is required, in words
         * @param verdict the answer
         * @param findings what was found, sentences
         * @param checks |Z| against its limits
         * @param peak the resonance against its window, or null
         */
        public record Requirement(
                String kind,
                String requires,
                String verdict,
                List<String> findings,
                Checks checks,
                @Nullable Peak peak) {}

        /**
         * |Z| against its limits, one array per quantity, one value per frequency in each; NaN where there is none.
         *
         * @param frequencyHz frequency in hertz
         * @param magnitudeOhm measured |Z| in ohms
         * @param minOhm lower limit in ohms
         * @param maxOhm upper limit in ohms
         * @param beyondPercent how far beyond the limit, percent of it; negative inside
         * @param verdict the answer
         */
        public record Checks(
                double[] frequencyHz,
                double[] magnitudeOhm,
                double[] minOhm,
                double[] maxOhm,
                double[] beyondPercent,
                List<String> verdict) {
            static Checks of(List<BandCheck> checks) {
                return new Checks(
                        CurveView.each(checks, BandCheck::hz),
                        CurveView.each(checks, BandCheck::ohm),
                        CurveView.each(
                                checks, c -> c.limits().hasLow() ? c.limits().lowOhm() : Double.NaN),
                        CurveView.each(checks, c -> c.limits().highOhm()),
                        CurveView.each(checks, BandCheck::beyondPercent),
                        checks.stream().map(c -> c.conformity().word()).toList());
            }
        }

        /**
         * The frequency of the greatest |Z| against its window, hertz.
         *
         * @param fromHz lower end of the window
         * @param toHz upper end of the window
         * @param peakHz best estimate
         * @param earliestHz lower end of where it may lie
         * @param latestHz upper end of where it may lie
         * @param peakOhm the greatest measured |Z| in ohms
         */
        public record Peak(
                double fromHz, double toHz, double peakHz, double earliestHz, double latestHz, double peakOhm) {
            static @Nullable Peak of(@Nullable PeakCheck p) {
                return p == null
                        ? null
                        : new Peak(
                                p.window().fromHz(),
                                p.window().toHz(),
                                p.peakHz(),
                                p.earliestHz(),
                                p.latestHz(),
                                p.peakOhm());
            }
        }

        static Outcome of(CheckOutcome outcome) {
            return new Outcome(
                    outcome.verdict(),
                    outcome.specificationName(),
                    outcome.reasons(),
                    outcome.notes(),
                    outcome.decided().requirements().stream()
                            .map(Outcome::requirement)
                            .toList(),
                    outcome.causes(),
                    outcome.findings());
        }

        private static Requirement requirement(RequirementVerdict r) {
            return new Requirement(
                    r.kind().words(),
                    r.words(),
                    r.conformity().word(),
                    r.findings(),
                    Checks.of(r.checks()),
                    Peak.of(r.peak()));
        }
    }
}
