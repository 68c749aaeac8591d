package ohmprint.exchange;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;

/**
 * The forms in which a curve is written as text. Whoever lists, names, writes, reads or describes them asks here, in the
 * order in which they are documented, so that a new one is a constant of this list and a class that writes and reads it.
 */
public enum CurveFormat {
    /** A table with a row per band, see {@link CurveCsv}. */
    CSV("CSV", "table", "csv", "text/csv") {
        @Override
        public String write(Measurement measurement) {
            return CurveCsv.write(measurement.curve());
        }

        @Override
        public List<Touchstone.Point> read(String text, String name) throws ExchangeException {
            return Touchstone.points(CurveCsv.read(text, name, false));
        }
    },

    /** The whole measurement, see {@link CurveJson}: the one form from which everything comes back. */
    JSON("JSON", "JSON", "json", "application/json") {
        @Override
        public String write(Measurement measurement) {
            return CurveJson.write(measurement);
        }

        @Override
        public List<Touchstone.Point> read(String text, String name) throws ExchangeException {
            return Touchstone.points(CurveJson.read(text, name).curve());
        }
    },

    /** Resistance and reactance alone, see {@link Touchstone}. */
    TOUCHSTONE("Touchstone", "Touchstone", "s1p", "text/plain") {
        @Override
        public boolean canHold(ImpedanceCurve curve) {
            return Touchstone.canHold(curve);
        }

        @Override
        public String write(Measurement measurement) {
            return Touchstone.write(measurement);
        }

        @Override
        public List<Touchstone.Point> read(String text, String name) throws ExchangeException {
            return Touchstone.read(text, name);
        }
    };

    private final String title;
    private final String description;
    private final String extension;
    private final String mediaType;

    CurveFormat(String title, String description, String extension, String mediaType) {
        this.title = title;
        this.description = description;
        this.extension = extension;
        this.mediaType = mediaType;
    }

    /** Its name. */
    public String title() {
        return title;
    }

    /** How the name of such a file ends, without the point. */
    public String extension() {
        return extension;
    }

    /** Media type of such a file, whose text is UTF-8. */
    public String mediaType() {
        return mediaType;
    }

    /** Name of such a file among the results of a measurement. */
    public String file() {
        return "curve." + extension;
    }

    /** Whether there is anything of a curve that this form can hold. */
    public boolean canHold(ImpedanceCurve curve) {
        return true;
    }

    /**
     * The whole file.
     *
     * @throws IllegalArgumentException if it {@linkplain #canHold cannot hold} the curve
     */
    public abstract String write(Measurement measurement);

    /**
     * What every form holds: resistance and reactance at each frequency that has both, ascending.
     *
     * @param text the whole file
     * @param name file name for messages
     * @throws ExchangeException if the text is not of this form; the message tells where
     */
    public abstract List<Touchstone.Point> read(String text, String name) throws ExchangeException;

    /** The form whose files end so. */
    public static Optional<CurveFormat> of(String extension) {
        return all().filter(format -> format.extension.equals(extension)).findFirst();
    }

    /** All names, as a sentence has them: {@code CSV, JSON and Touchstone}. */
    public static String titles() {
        String listed = all().map(CurveFormat::title).collect(Collectors.joining(", "));
        int last = listed.lastIndexOf(", ");
        return listed.substring(0, last) + " and" + listed.substring(last + 1);
    }

    /** What a measurement is written as: {@code table, JSON, Touchstone}. */
    public static String descriptions() {
        return all().map(format -> format.description).collect(Collectors.joining(", "));
    }

    /** All endings: {@code csv, json, s1p}. */
    public static String extensions() {
        return all().map(CurveFormat::extension).collect(Collectors.joining(", "));
    }

    private static Stream<CurveFormat> all() {
        return Arrays.stream(values());
    }
}
