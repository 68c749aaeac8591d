package ohmprint.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.curve.Measurement;

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

    private final Deviations deviations;
    private final boolean ribbon;
    private final List<PossibleCause> causes = new ArrayList<>();

    private FaultPatterns(Deviations deviations, boolean ribbon) {
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
                Deviations.of(specification, measurement.curve()),
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
}
