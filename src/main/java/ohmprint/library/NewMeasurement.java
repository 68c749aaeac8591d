package ohmprint.library;

import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import ohmprint.files.Sha256;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Microphone;
import ohmprint.impedance.Provenance;
import ohmprint.impedance.Provenance.TakeOrigin;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/**
 * A measurement that goes into a library, and what the tables hold of it.
 *
 * @param document the text of its {@code curve.json}, kept byte for byte
 * @param measurement what that text says
 * @param operator who measured or hands it in
 * @param note free text about it, or null
 */
public record NewMeasurement(
        String document,
        Measurement measurement,
        String operator,
        @Nullable String note) {
    private static final int ID_DIGITS = 12;

    /**
     * What became of a measurement that was added.
     *
     * @param id its identifier, twelve hexadecimal digits
     * @param fresh false when the library held it already, so that nothing was changed
     */
    public record Added(String id, boolean fresh) {}

    /** Its SHA-256, 64 lower-case hexadecimal digits. */
    public String sha256() {
        return Sha256.of(document);
    }

    /** The identifier that it has in every library. */
    public String id() {
        return idOf(sha256());
    }

    /** The first digits: two of 100 000 agree by chance once in 50 000 libraries. */
    private static String idOf(String sha256) {
        return sha256.substring(0, ID_DIGITS);
    }

    /**
     * Adds it unless it is there, with all that belongs to it, within a transaction of the caller.
     *
     * @param again whether it is added although it was removed once
     * @throws LibraryException if it was removed, or another one has its identifier
     */
    Added addTo(Handle handle, boolean again) throws LibraryException {
        Map<String, @Nullable Object> row = row();
        String id = String.valueOf(row.get("id"));
        String sha256 = String.valueOf(row.get("sha256"));
        Optional<String> there = there(handle, sha256);
        if (there.isPresent()) {
            return new Added(there.get(), false);
        }
        Optional<Removal> removal = again ? Optional.empty() : Removal.latest(handle, sha256);
        if (removal.isPresent()) {
            Removal r = removal.get();
            throw new LibraryException(id + " (" + r.label() + ") was removed from this library by " + r.by() + " at "
                    + r.at() + ": " + r.reason() + "; add it with --again if it is wanted after all");
        }
        Database.insert(handle, "microphone", microphoneRow());
        row.put("added_at", Database.time(Instant.now()));
        if (!Database.insert(handle, "measurement", row)) {
            // Another program added it at this moment, or its identifier belongs to another document.
            return there(handle, sha256)
                    .map(known -> new Added(known, false))
                    .orElseThrow(() -> new LibraryException("another measurement has the identifier " + id
                            + " by chance; measure once more, so that this one gets another"));
        }
        Database.insert(handle, "curve_document", Map.of("measurement", id, "gzip", Gzip.pack(document)));
        byte[] shape = CurveSignature.of(measurement.curve()).encode();
        Database.insert(handle, "curve_shape", Map.of("measurement", id, "points", shape));
        int place = 0;
        for (TakeOrigin take : measurement.provenance().takes()) {
            Map<String, @Nullable Object> takeRow = new LinkedHashMap<>();
            takeRow.put("measurement", id);
            takeRow.put("place", ++place);
            takeRow.put("file", take.file().file());
            takeRow.put("sha256", take.file().sha256());
            // An open load has no ohms.
            takeRow.put("load_ohm", Double.isFinite(take.loadOhm()) ? Double.valueOf(take.loadOhm()) : null);
            Database.insert(handle, "take", takeRow);
        }
        return new Added(id, true);
    }

    private static Optional<String> there(Handle handle, String sha256) {
        return handle.createQuery("SELECT id FROM measurement WHERE sha256 = :sha256")
                .bind("sha256", sha256)
                .mapTo(String.class)
                .findOne();
    }

    /** The row of {@code measurement}, without the time at which it was  */
    Map<String, @Nullable Object> row() {
        Microphone microphone = measurement.microphone();
        Provenance provenance = measurement.provenance();
        ImpedanceCurve curve = measurement.curve();
        FrequencyBands bands = curve.bands();
        String sha256 = sha256();
        Map<String, @Nullable Object> row = new LinkedHashMap<>();
        row.put("id", idOf(sha256));
        row.put("sha256", sha256);
        row.put("microphone", microphoneId());
        row.put("label", microphone.label());
        row.put("measured_at", Database.time(provenance.computedAt()));
        row.put("operator", operator);
        row.put("note", note);
        row.put("route", measurement.route().word());
        row.put("verdict", measurement.usability().word());
        row.put("findings", findings());
        row.put("loads", loads());
        row.put("input", provenance.input());
        row.put("program_version", provenance.programVersion());
        row.put("bands_per_octave", bands.fraction());
        row.put("lowest_hz", bands.midband(0));
        row.put("highest_hz", bands.midband(bands.size() - 1));
        row.put("parallel_with_input", curve.parallelWithInput() ? 1 : 0);
        BandValue at1khz = curve.at(FrequencyBands.REFERENCE_HZ);
        row.put("ohm_at_1khz", at1khz.isMeasured() ? at1khz.magnitudeOhm() : null);
        row.put("search_text", searchText());
        return row;
    }

    /** The row of {@code microphone}. */
    private Map<String, @Nullable Object> microphoneRow() {
        Microphone m = measurement.microphone();
        Map<String, @Nullable Object> row = new LinkedHashMap<>();
        row.put("id", microphoneId());
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

    /** Maker, model and serial number, or label, maker and model without one; blanks and case do not matter. */
    private String microphoneId() {
        Microphone m = measurement.microphone();
        String serial = plain(m.serial());
        String who = serial.isEmpty()
                ? "label\n" + plain(m.label()) + "\n" + plain(m.maker()) + "\n" + plain(m.model())
                : "serial\n" + plain(m.maker()) + "\n" + plain(m.model()) + "\n" + serial;
        return idOf(Sha256.of(who));
    }

    private static String plain(@Nullable String text) {
        return text == null ? "" : text.strip().replaceAll("\\s+", " ").toLowerCase(Locale.ROOT);
    }

    private String findings() {
        return measurement.findings().stream()
                .map(f -> f.code().word())
                .distinct()
                .collect(Collectors.joining(" "));
    }

    private String loads() {
        return measurement.provenance().takes().stream()
                .map(t -> Double.isInfinite(t.loadOhm()) ? "open" : whole(t.loadOhm()) + " Ω")
                .collect(Collectors.joining(", "));
    }

    private static String whole(double ohms) {
        return ohms == Math.rint(ohms) ? Long.toString((long) ohms) : Double.toString(ohms);
    }

    private String searchText() {
        Microphone mic = measurement.microphone();
        return Stream.of(
                        mic.label(),
                        mic.maker(),
                        mic.model(),
                        mic.serial(),
                        mic.transducer(),
                        mic.notes(),
                        note,
                        operator,
                        measurement.route().word(),
                        measurement.usability().word(),
                        findings())
                .map(NewMeasurement::plain)
                .filter(text -> !text.isEmpty())
                .collect(Collectors.joining("\n"));
    }
}
