package ohmprint.conformity;

import static org.assertj.core.api.Assertions.assertThat;

import ohmprint.conformity.Specification.MaskRange;
import ohmprint.impedance.ImpedanceCurve;

/** Decisions on curves, and what they decided. */
abstract class DecidedCurves {
    static final MaskRange MASK = new MaskRange(200, 10_000, 200, 400);

    static Verdict decide(Specification specification, ImpedanceCurve curve) {
        return Decision.of(specification, Curves.ribbon(curve));
    }

    static RequirementVerdict only(Verdict verdict) {
        assertThat(verdict.requirements()).hasSize(1);
        return verdict.requirements().get(0);
    }
}
