package ohmprint.json;

import ohmprint.app.input.InputOutcome;
import ohmprint.app.input.InputOutcome.ParallelInput;
import ohmprint.app.measure.ConsistencyWords;
import ohmprint.app.measure.MeasureOutcome;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.Finding;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;

/** What came of a measurement. */
public final class MeasurementJson {
    private MeasurementJson() {}

    /** A finding with the take that it concerns; null when it concerns the session. */
    public static JsonObject finding(Finding finding) {
        return new JsonObject()
                .put("code", finding.code().word())
                .put("take", finding.take())
                .put("message", finding.message());
    }

    /** A finding where no take has to be told apart. */
    public static JsonObject findingAlone(Finding finding) {
        return new JsonObject().put("code", finding.code().word()).put("message", finding.message());
    }

    /** The outcome of {@code measure}; {@code folder} is null and {@code files} empty when nothing was written. */
    public static JsonObject outcome(MeasureOutcome outcome) {
        Measurement m = outcome.measurement();
        ImpedanceCurve curve = m.curve();
        return new JsonObject()
                .put("verdict", m.usability().word())
                .put("route", m.route().word())
                .put("route_reason", m.routeReason())
                .put("quantity", curve.quantity())
                .put("folder", outcome.folder())
                .put("files", outcome.files())
                .list("findings", m.findings(), MeasurementJson::finding)
                .put("consistency", ConsistencyWords.of(curve.consistency()))
                .put("measured_bands", curve.count(BandStatus.MEASURED))
                .put("rejected_bands", curve.count(BandStatus.REJECTED))
                .put("interval_bands", curve.count(BandStatus.INTERVAL))
                .put("advice", outcome.advice());
    }

    /** The outcome of {@code input}; {@code parallel} is null when nothing was fitted. */
    public static JsonObject outcome(InputOutcome outcome) {
        ParallelInput p = outcome.parallel();
        return outcome(outcome.measured())
                .put(
                        "parallel",
                        p == null
                                ? null
                                : new JsonObject()
                                        .put("resistance_ohm", p.ohm())
                                        .put("resistance_u95_ohm", p.ohmU95())
                                        .put("capacitance_pf", p.pf())
                                        .put("capacitance_u95_pf", p.pfU95())
                                        .put("largest_misfit_percent", p.largestMisfitPercent())
                                        .put("describes", p.describes()));
    }
}
