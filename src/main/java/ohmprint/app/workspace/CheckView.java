package ohmprint.app.workspace;

import java.util.Arrays;
import java.util.List;
import java.util.function.ToDoubleFunction;
import ohmprint.app.check.CheckOutcome;
import ohmprint.spec.BandCheck;
import ohmprint.spec.PeakCheck;
import ohmprint.spec.RequirementVerdict;
import org.jspecify.annotations.Nullable;

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
public record CheckView(
        String verdict,
        String specification,
        List<String> reasons,
        List<String> notes,
        List<Requirement> requirements,
        List<CheckOutcome.Cause> causes,
        List<FindingView> findings) {
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
                    each(checks, BandCheck::hz),
                    each(checks, BandCheck::ohm),
                    each(checks, c -> c.limits().hasLow() ? c.limits().lowOhm() : Double.NaN),
                    each(checks, c -> c.limits().highOhm()),
                    each(checks, BandCheck::beyondPercent),
                    checks.stream().map(c -> c.conformity().word()).toList());
        }

        private static double[] each(List<BandCheck> checks, ToDoubleFunction<BandCheck> one) {
            double[] out = new double[checks.size()];
            Arrays.setAll(out, i -> one.applyAsDouble(checks.get(i)));
            return out;
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
    public record Peak(double fromHz, double toHz, double peakHz, double earliestHz, double latestHz, double peakOhm) {
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

    static CheckView of(CheckOutcome outcome) {
        return new CheckView(
                outcome.verdict(),
                outcome.specificationName(),
                outcome.reasons(),
                outcome.notes(),
                outcome.decided().requirements().stream()
                        .map(CheckView::requirement)
                        .toList(),
                outcome.causes(),
                FindingView.of(outcome.findings()));
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
