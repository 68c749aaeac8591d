package ohmprint.conformity;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.function.DoubleUnaryOperator;
import ohmprint.conformity.FaultPatterns.PossibleCause;
import ohmprint.conformity.Specification.AppliesTo;
import ohmprint.conformity.Specification.MaskRange;
import ohmprint.conformity.Specification.ResonanceWindow;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Usability;
import org.junit.jupiter.api.Test;

/** Shapes of deviations and the causes that they bring up. */
class FaultPatternsTest {
    private static final Specification SPECIFICATION = new Specification(
            "ribbon", null, AppliesTo.ALL, null, List.of(new MaskRange(20, 20_000, 240, 360)), null, null);

    private static List<PossibleCause> causes(Specification specification, DoubleUnaryOperator ohm, String transducer) {
        Measurement measurement = Curves.measurement(Curves.curve(ohm, 0.3), transducer, Usability.USABLE);
        return FaultPatterns.of(specification, measurement, Decision.of(specification, measurement));
    }

    private static List<String> patterns(DoubleUnaryOperator ohm) {
        return causes(SPECIFICATION, ohm, "ribbon").stream()
                .map(PossibleCause::pattern)
                .distinct()
                .toList();
    }

    @Test
    void allLow() {
        List<PossibleCause> causes = causes(SPECIFICATION, hz -> 90, "ribbon");
        assertThat(causes).extracting(PossibleCause::pattern).containsOnly("all of it low");
        assertThat(causes)
                .extracting(PossibleCause::cause)
                .containsExactly(
                        "shorted turns in the transformer", "wrong tap or strap: a lower impedance is selected");
        assertThat(causes).allSatisfy(c -> {
            assertThat(c.confirm()).isNotBlank();
            assertThat(c.caution()).isNotBlank();
        });
        assertThat(causes.get(0).caution()).contains("no ohmmeter on a ribbon");
    }

    @Test
    void otherShapes() {
        assertThat(patterns(hz -> 600)).containsExactly("all of it high");
        assertThat(patterns(hz -> 300 / Math.hypot(1, 60 / hz))).containsExactly("low end fallen");
        assertThat(patterns(hz -> 300 * Math.hypot(1, hz / 12_000))).containsExactly("top risen");
        assertThat(patterns(hz -> 300 / Math.hypot(1, hz / 12_000))).containsExactly("top fallen");
        assertThat(patterns(hz -> 300 * Math.hypot(1, 60 / hz)))
                .containsExactly("open at DC: |Z| rises towards low frequencies as that of a capacitor does");
        assertThat(patterns(hz -> 1e6 / hz)).first().asString().startsWith("open at DC");
    }

    @Test
    void aResonanceThatMoved() {
        Specification window = Curves.resonance(new ResonanceWindow(30, 60, 20, 300));
        DoubleUnaryOperator peak = hz -> 200 + 100 / (1 + Math.pow(4 * Math.log(hz / 150), 2));
        assertThat(causes(window, peak, "ribbon")).singleElement().satisfies(c -> {
            assertThat(c.pattern()).isEqualTo("resonance moved");
            assertThat(c.cause()).contains("tension");
        });
        assertThat(causes(window, peak, "moving-coil"))
                .singleElement()
                .satisfies(c -> assertThat(c.cause()).contains("suspension"));
    }

    @Test
    void aRatedImpedanceAloneTellsTheShapeInTheMiddle() {
        assertThat(causes(Curves.rated(300, 20), hz -> 90, "ribbon"))
                .extracting(PossibleCause::pattern)
                .containsOnly("all of it low")
                .isNotEmpty();
    }

    @Test
    void nothingIsNamedUnlessTheVerdictIsOutside() {
        assertThat(patterns(hz -> 300)).isEmpty();
        assertThat(patterns(hz -> 240)).isEmpty();
        // Beyond the limit, but by less than chance brings among 120 bands.
        assertThat(patterns(hz -> 240 * (1 - 2.5 * 0.003))).isEmpty();
    }
}
