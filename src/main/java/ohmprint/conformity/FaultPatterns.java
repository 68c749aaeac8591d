package ohmprint.conformity;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.conformity.Limits.Side;
import ohmprint.conformity.Specification.MaskRange;
import ohmprint.conformity.Specification.RatedImpedance;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;

/**
 * Names what usually is behind a deviation of a given shape. Common practice of the trade, no source; a list to start
 * from, not a diagnosis. Nothing is named unless the specification is violated beyond doubt.
 */
public final class FaultPatterns {
    private static final double LOW_END_HZ = 200;
    private static final double TOP_HZ = 4000;
    private static final double MOST = 0.8;
    private static final double SOME = 0.25;
    private static final double FEW = 0.1;
    /** Slope of ln|Z| that is more a capacitor than a resistor. */
    private static final double CAPACITIVE = -0.5;

    private static final String NO_OHMMETER =
            "no ohmmeter on a ribbon or its transformer: its current stretches ribbons and magnetises cores";
    private static final String POWER_OFF = "phantom power off and discharged before anything is connected or opened";

    private final BandDeviations deviations;
    private final boolean ribbon;
    private final List<PossibleCause> causes = new ArrayList<>();

    private FaultPatterns(BandDeviations deviations, boolean ribbon) {
        this.deviations = deviations;
        this.ribbon = ribbon;
    }

    /** Causes that fit, the most telling pattern first; none unless the verdict is outside. */
    public static List<PossibleCause> of(Specification specification, Measurement measurement, Verdict verdict) {
        if (verdict.conformity() != Conformity.OUTSIDE) {
            return List.of();
        }
        String transducer = measurement.microphone().transducer();
        FaultPatterns patterns = new FaultPatterns(
                BandDeviations.of(specification, measurement.curve()),
                transducer != null && transducer.toLowerCase(Locale.ROOT).equals("ribbon"));
        patterns.look(verdict.isOutside(RequirementVerdict.Kind.RESONANCE));
        return List.copyOf(patterns.causes);
    }

    private void look(boolean resonanceMoved) {
        double lowInTheMiddle = deviations.share(Side.LOW, LOW_END_HZ, TOP_HZ);
        double highInTheMiddle = deviations.share(Side.HIGH, LOW_END_HZ, TOP_HZ);
        double bottom = deviations.lowestHz();
        boolean capacitive = deviations.slope(bottom, 4 * bottom) < CAPACITIVE;
        if (lowInTheMiddle >= MOST) {
            allLow();
        } else if (highInTheMiddle >= MOST) {
            allHigh(capacitive);
        }
        if (lowInTheMiddle < FEW && deviations.startsBeyond(Side.LOW)) {
            lowEndFallen();
        }
        if (highInTheMiddle < MOST && capacitive && deviations.startsBeyond(Side.HIGH)) {
            openAtDc();
        }
        if (resonanceMoved || bump()) {
            resonance();
        }
        if (highInTheMiddle < SOME && deviations.endsBeyond(Side.HIGH)) {
            topRisen();
        }
        if (lowInTheMiddle < SOME && deviations.endsBeyond(Side.LOW)) {
            topFallen();
        }
    }

    /** Too high in one part of the low range and too low in another, while the middle fits. */
    private boolean bump() {
        return deviations.share(Side.HIGH, 0, 2 * LOW_END_HZ) > FEW
                && deviations.share(Side.LOW, 0, 2 * LOW_END_HZ) > FEW
                && deviations.share(Side.HIGH, 2 * LOW_END_HZ, TOP_HZ) < FEW
                && deviations.share(Side.LOW, 2 * LOW_END_HZ, TOP_HZ) < FEW;
    }

    private void allLow() {
        String pattern = "all of it low";
        add(
                pattern,
                "shorted turns in the " + (ribbon ? "transformer" : "coil or transformer"),
                "with the element disconnected, measure the transformer alone, or listen for the level: shorted turns cost"
                        + " output as well; compare with a sound unit of the model",
                NO_OHMMETER);
        add(
                pattern,
                "wrong tap or strap: a lower impedance is selected",
                "look up the straps of the output and compare them with the marking; the ratio of the impedances is that"
                        + " of the taps",
                POWER_OFF);
    }

    private void allHigh(boolean capacitive) {
        if (capacitive) {
            openAtDc();
            return;
        }
        String pattern = "all of it high";
        add(
                pattern,
                "wrong tap or strap: a higher impedance is selected",
                "look up the straps of the output and compare them with the marking",
                POWER_OFF);
        add(
                pattern,
                "a dry joint or a worn contact in series",
                "move plug, cable and switch gently during a noise take and watch the level; measure again with another"
                        + " cable",
                POWER_OFF);
    }

    private void lowEndFallen() {
        add(
                "low end fallen",
                "magnetising inductance of the transformer has dropped: magnetised or shifted core, wrong transformer",
                "measure again at a lower level; if the low end changes with level, the core is at fault",
                NO_OHMMETER + "; demagnetising is done with a decaying alternating current, and not with a ribbon"
                        + " connected");
    }

    private void openAtDc() {
        add(
                "open at DC: |Z| rises towards low frequencies as that of a capacitor does",
                "a broken " + (ribbon ? "ribbon or winding" : "coil or winding")
                        + ", or a joint that is bridged by stray capacitance alone; a coupling capacitor that has lost"
                        + " capacitance where there is one",
                "look at lead-outs and joints with a magnifier; measure again from the next joint inwards",
                NO_OHMMETER);
    }

    private void resonance() {
        add(
                "resonance moved",
                ribbon
                        ? "ribbon tension: a slack ribbon resonates lower, a taut one higher"
                        : "suspension: a soft or torn surround resonates lower, a stiff or rubbing one higher",
                ribbon
                        ? "look at the ribbon's sag against a light ground; compare with a sound unit of the model"
                        : "listen to a slow quiet sweep for buzz or rubbing; compare with a sound unit of the model",
                "never blow on it; keep low frequencies quiet, which stretch a ribbon");
    }

    private void topRisen() {
        String pattern = "top risen";
        add(
                pattern,
                "more leakage inductance: a transformer of another kind, or a winding section that is open",
                "measure the transformer alone with its secondary loaded as the element would, and compare with a sound one",
                NO_OHMMETER);
        add(
                pattern,
                "added capacitance that resonates with the leakage inductance: long cable, filter, broken screen",
                "measure again with a short cable; check that the screen is joined at both ends",
                POWER_OFF);
    }

    private void topFallen() {
        add(
                "top fallen",
                "added capacitance across the output: long cable, filter, moisture",
                "measure again with a short cable and the filter unsoldered; dry the capsule's housing gently",
                POWER_OFF);
    }

    private void add(String pattern, String cause, String confirm, String caution) {
        causes.add(new PossibleCause(pattern, cause, confirm, caution));
    }

    /**
     * What may be behind a deviation. Common practice of the trade, no source.
     *
     * @param pattern the shape of the deviation that was seen
     * @param cause what usually is behind it
     * @param confirm the step that confirms or rules it out
     * @param caution what to mind with that step
     */
    public record PossibleCause(String pattern, String cause, String confirm, String caution) {}

    /**
     * Where a curve lies beyond its limits, band by band, for the sake of its shape.
     *
     * <p>The limits of a band are the tightest that mask and reference have there. Where both are silent the rated impedance
     * serves from 100 Hz to 5 kHz, in which |Z| of most microphones stays near it (common practice, no source). Only
     * significant deviations count: beyond the limit by the guard band that all bands together ask for.
     */
    private static final class BandDeviations {
        private static final double RATED_FROM_HZ = 100;
        private static final double RATED_TO_HZ = 5000;

        private final ImpedanceCurve curve;
        private final List<BandCheck> checks = new ArrayList<>();

        private BandDeviations(ImpedanceCurve curve) {
            this.curve = curve;
        }

        static BandDeviations of(Specification specification, ImpedanceCurve curve) {
            BandDeviations out = new BandDeviations(curve);
            List<LimitedReading> limited = new ArrayList<>();
            for (int i = 0; i < curve.bands().size(); i++) {
                Limits limits = limits(specification, curve.bands().midband(i));
                Reading reading = Reading.band(curve, i);
                if ((limits.hasLow() || limits.hasHigh()) && (reading.hasValue() || reading.hasBounds())) {
                    limited.add(new LimitedReading(reading, limits));
                }
            }
            FamilywiseRates rates = FamilywiseRates.of(curve, List.of(limited), FamilywiseRates.SIDE_RATE)
                    .get(0);
            limited.forEach(check -> out.checks.add(check.judge(rates)));
            return out;
        }

        private static Limits limits(Specification specification, double hz) {
            double low = 0;
            double high = Double.POSITIVE_INFINITY;
            double uncertainty = 0;
            for (MaskRange range : specification.mask()) {
                if (hz >= range.fromHz() && hz <= range.toHz()) {
                    low = Math.max(low, range.minOhm());
                    high = Math.min(high, range.maxOhm());
                }
            }
            ReferenceCurve reference = specification.reference();
            if (reference != null && hz >= reference.fromHz() && hz <= reference.toHz()) {
                Limits limits = reference.limits(hz);
                low = Math.max(low, limits.lowOhm());
                high = Math.min(high, limits.highOhm());
                uncertainty = limits.relativeUncertainty();
            }
            RatedImpedance rated = specification.rated();
            if (rated != null && low == 0 && Double.isInfinite(high) && hz >= RATED_FROM_HZ && hz <= RATED_TO_HZ) {
                return rated.limits();
            }
            return new Limits(low, high, uncertainty);
        }

        /** Share of the bands with limits in a range of frequencies that lie beyond this limit; 0 when there are none. */
        double share(Side side, double fromHz, double toHz) {
            List<BandCheck> there = checks.stream()
                    .filter(c -> c.hz() >= fromHz && c.hz() < toHz)
                    .toList();
            long beyond = there.stream().filter(c -> isBeyond(c, side)).count();
            return there.isEmpty() ? 0 : beyond / (double) there.size();
        }

        /** True when the lowest band with limits lies beyond this one. */
        boolean startsBeyond(Side side) {
            return !checks.isEmpty() && isBeyond(checks.get(0), side);
        }

        /** True when the highest band with limits lies beyond this one. */
        boolean endsBeyond(Side side) {
            return !checks.isEmpty() && isBeyond(checks.get(checks.size() - 1), side);
        }

        private static boolean isBeyond(BandCheck check, Side side) {
            return check.conformity() == Conformity.OUTSIDE && check.side() == side;
        }

        /**
         * Slope of ln|Z| against ln f between two frequencies in hertz, from the outermost bands with a value there: −1 for a
         * capacitor, +1 for an inductor; 0 when there are fewer than two.
         */
        double slope(double fromHz, double toHz) {
            List<BandValue> values = curve.values().stream()
                    .filter(v -> v.isMeasured() && v.magnitudeOhm() > 0)
                    .filter(v -> v.frequencyHz() >= fromHz && v.frequencyHz() <= toHz)
                    .toList();
            if (values.size() < 2) {
                return 0;
            }
            BandValue first = values.get(0);
            BandValue last = values.get(values.size() - 1);
            return Math.log(last.magnitudeOhm() / first.magnitudeOhm())
                    / Math.log(last.frequencyHz() / first.frequencyHz());
        }

        /** Frequency in hertz of the lowest band of the curve. */
        double lowestHz() {
            return curve.bands().midband(0);
        }
    }
}
