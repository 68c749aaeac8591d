package ohmprint.json;

import java.util.function.Function;
import ohmprint.app.record.DeviceList;
import ohmprint.app.record.LevelReport;
import ohmprint.app.record.TakeReport;
import ohmprint.impedance.Finding;

/** What is told while a session is recorded: takes, the level, devices. */
public final class RecordingJson {
    private RecordingJson() {}

    /** A load in ohms; {@code open} for no resistor. */
    public static Object load(double ohm) {
        return Double.isInfinite(ohm) ? "open" : (Object) ohm;
    }

    /**
     * Adds what a take is like.
     *
     * @param json what it is told with, such as an event
     * @param finding how each finding is told
     */
    public static JsonObject take(JsonObject json, TakeReport report, Function<Finding, JsonObject> finding) {
        return json.put("take", report.number())
                .put("file", report.file())
                .put("load_ohm", load(report.loadOhm()))
                .put("usable", report.usable())
                .put("peak_dbfs", report.peakDbfs())
                .put("noise_dbfs", report.noiseDbfs())
                .put("step_db", report.stepDb())
                .list("findings", report.findings(), finding);
    }

    /** Adds what a trial of the level showed; what is predicted is null when nothing is. */
    public static JsonObject level(JsonObject json, LevelReport report, Function<Finding, JsonObject> finding) {
        LevelReport.Predicted predicted = report.predicted();
        return json.put("acceptable", report.acceptable())
                .put("clipped", report.clipped())
                .put("peak_dbfs", report.peakDbfs())
                .put("gain_change_db", report.gainChangeDb())
                .put("noise_dbfs", report.noiseDbfs())
                .put("signal_to_noise_db", report.signalToNoiseDb())
                .put("predicted_median_u95_percent", predicted == null ? null : (Object) predicted.medianPercent())
                .put("predicted_from_hz", predicted == null ? null : (Object) predicted.fromHz())
                .put("predicted_to_hz", predicted == null ? null : (Object) predicted.toHz())
                .list("findings", report.findings(), finding);
    }

    /** The devices of {@code devices}. */
    public static JsonObject devices(DeviceList list) {
        return new JsonObject()
                .list(
                        "devices",
                        list.devices(),
                        device -> new JsonObject()
                                .put("name", device.name())
                                .put("description", device.description())
                                .list("inputs", device.inputs(), RecordingJson::format)
                                .list("outputs", device.outputs(), RecordingJson::format));
    }

    /** A format that was tried. */
    public static JsonObject format(DeviceList.Format f) {
        double measured = f.measuredRate();
        return new JsonObject()
                .put("sample_rate_hz", f.rate())
                .put("channels", f.channels())
                .put("bits", f.bits())
                .put("measured_rate_hz", Double.isFinite(measured) ? (Object) Math.round(measured) : null)
                .put("own_rate_hz", f.ownRate())
                .put("verdict", f.verdict())
                .put("usable", f.usable());
    }
}
