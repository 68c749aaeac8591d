package ohmprint.app.record;

import java.io.IOException;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.plan.ExpectedSource;
import ohmprint.app.plan.PlanRequest;
import ohmprint.circuit.SourceModel;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.Microphone;
import org.jspecify.annotations.Nullable;

/**
 * The impedance that is expected: what was stated, else the rated one, else that of a usual microphone of its kind, else
 * 200 Ω (common practice, no source).
 *
 * @param source for predictions
 * @param ohm at 1 kHz in ohms, or null when nothing is known of this microphone
 */
record ExpectedImpedance(SourceModel source, @Nullable Double ohm) {
    private static final double USUAL_OHM = 200;
    private static final List<String> KINDS = List.of("moving-coil", "ribbon", "condenser");

    static ExpectedImpedance of(Microphone microphone, @Nullable Double statedOhm)
            throws BadInputException, IOException {
        Double ohm = statedOhm != null ? statedOhm : microphone.ratedImpedanceOhm();
        if (ohm != null) {
            return new ExpectedImpedance(
                    ExpectedSource.of(PlanRequest.Expected.ofOhms(ohm)).source(), ohm);
        }
        String kind = microphone.transducer();
        if (kind != null && KINDS.contains(kind)) {
            SourceModel usual =
                    ExpectedSource.of(PlanRequest.Expected.ofTransducer(kind)).source();
            return new ExpectedImpedance(
                    usual, usual.impedance(FrequencyBands.REFERENCE_HZ).abs());
        }
        return new ExpectedImpedance(
                ExpectedSource.of(PlanRequest.Expected.ofOhms(USUAL_OHM)).source(), null);
    }
}
