package ohmprint.library;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import ohmprint.curve.BandValue;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.Measurement;
import ohmprint.curve.Microphone;
import ohmprint.curve.Provenance.TakeOrigin;
import org.jspecify.annotations.Nullable;

/** What the tables hold of a measurement besides its document: values by the names of columns. */
final class Columns {

    private Columns() {}

    /** The row of {@code measurement}, without the time at which it was added. */
    static Map<String, @Nullable Object> ofMeasurement(NewMeasurement added) {
        Measurement m = added.measurement();
        FrequencyBands bands = m.curve().bands();
        Map<String, @Nullable Object> row = new LinkedHashMap<>();
        row.put("id", added.id());
        row.put("sha256", added.sha256());
        row.put("microphone", microphoneId(m.microphone()));
        row.put("label", m.microphone().label());
        row.put("measured_at", Stamp.of(m.provenance().computedAt()));
        row.put("operator", added.operator());
        row.put("note", added.note());
        row.put("route", m.route().word());
        row.put("verdict", m.usability().word());
        row.put("findings", findings(m));
        row.put("loads", loads(m));
        row.put("input", m.provenance().input());
        row.put("program_version", m.provenance().programVersion());
        row.put("bands_per_octave", bands.fraction());
        row.put("lowest_hz", bands.midband(0));
        row.put("highest_hz", bands.midband(bands.size() - 1));
        row.put("parallel_with_input", m.curve().parallelWithInput() ? 1 : 0);
        BandValue at1khz = m.curve().at(FrequencyBands.REFERENCE_HZ);
        row.put("ohm_at_1khz", at1khz.isMeasured() ? at1khz.magnitudeOhm() : null);
        row.put("search_text", searchText(added));
        return row;
    }

    /** The row of {@code microphone}. */
    static Map<String, @Nullable Object> ofMicrophone(Microphone m) {
        Map<String, @Nullable Object> row = new LinkedHashMap<>();
        row.put("id", microphoneId(m));
        row.put("label", m.label());
        row.put("maker", m.maker());
        row.put("model", m.model());
        row.put("serial", m.serial());
        row.put("transducer", m.transducer());
        row.put("rated_impedance_ohm", m.ratedImpedanceOhm());
        row.put("rated_minimum_load_ohm", m.ratedMinimumLoadOhm());
        row.put("notes", m.notes());
        return row;
    }

    /** The rows of {@code take}; an open load has no ohms. */
    static List<Map<String, @Nullable Object>> ofTakes(NewMeasurement added) {
        List<Map<String, @Nullable Object>> rows = new ArrayList<>();
        for (TakeOrigin take : added.measurement().provenance().takes()) {
            Map<String, @Nullable Object> row = new LinkedHashMap<>();
            row.put("measurement", added.id());
            row.put("place", rows.size() + 1);
            row.put("file", take.file().file());
            row.put("sha256", take.file().sha256());
            row.put("load_ohm", Double.isFinite(take.loadOhm()) ? Double.valueOf(take.loadOhm()) : null);
            rows.add(row);
        }
        return rows;
    }

    /** Maker, model and serial number, or label, maker and model without one; blanks and case do not matter. */
    static String microphoneId(Microphone m) {
        String serial = plain(m.serial());
        String who = serial.isEmpty()
                ? "label\n" + plain(m.label()) + "\n" + plain(m.maker()) + "\n" + plain(m.model())
                : "serial\n" + plain(m.maker()) + "\n" + plain(m.model()) + "\n" + serial;
        return Digest.id(Digest.sha256(who));
    }

    private static String plain(@Nullable String text) {
        return text == null ? "" : text.strip().replaceAll("\\s+", " ").toLowerCase(Locale.ROOT);
    }

    private static String findings(Measurement m) {
        return m.findings().stream().map(f -> f.code().word()).distinct().collect(Collectors.joining(" "));
    }

    private static String loads(Measurement m) {
        return m.provenance().takes().stream()
                .map(t -> Double.isInfinite(t.loadOhm()) ? "open" : whole(t.loadOhm()) + " Ω")
                .collect(Collectors.joining(", "));
    }

    private static String whole(double ohms) {
        return ohms == Math.rint(ohms) ? Long.toString((long) ohms) : Double.toString(ohms);
    }

    private static String searchText(NewMeasurement added) {
        Measurement m = added.measurement();
        Microphone mic = m.microphone();
        return Stream.of(
                        mic.label(),
                        mic.maker(),
                        mic.model(),
                        mic.serial(),
                        mic.transducer(),
                        mic.notes(),
                        added.note(),
                        added.operator(),
                        m.route().word(),
                        m.usability().word(),
                        findings(m))
                .map(Columns::plain)
                .filter(text -> !text.isEmpty())
                .collect(Collectors.joining("\n"));
    }
}
