package ohmprint.exchange;

import java.text.Normalizer;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.text.Numbers;
import org.apache.commons.math3.complex.Complex;

/**
 * The one-port network-parameter file of the Touchstone open standard (versions 1 and 2, IBIS Open Forum).
 *
 * <p>A file holds resistance and reactance of each frequency, nothing else: bands without a reactance (power route,
 * intervals, rejected bands) are left out. Where no band has one there is nothing to write, see {@link #canHold}.
 */
public final class Touchstone {
    private Touchstone() {}

    /** True when at least one band has both resistance and reactance. */
    public static boolean canHold(ImpedanceCurve curve) {
        return !points(curve).isEmpty();
    }

    /**
     * The file in version 1, {@code # Hz Z RI R 1}, frequencies ascending, label, time and quantity in comments.
     *
     * @throws IllegalArgumentException if no band has a reactance
     */
    public static String write(Measurement measurement) {
        ImpedanceCurve curve = measurement.curve();
        if (!canHold(curve)) {
            throw new IllegalArgumentException(
                    "no band of \"" + measurement.microphone().label()
                            + "\" has a reactance, so there is nothing that a Touchstone file could hold; write the table instead");
        }
        StringBuilder out = new StringBuilder();
        comment(out, measurement.microphone().label());
        comment(out, measurement.provenance().computedAt().toString());
        comment(out, curve.quantity() + ", resistance and reactance in ohms");
        out.append("# Hz Z RI R 1\n");
        for (Point p : points(curve)) {
            out.append(Numbers.inFile(p.frequencyHz()))
                    .append(' ')
                    .append(Numbers.inFile(p.resistanceOhm()))
                    .append(' ')
                    .append(Numbers.inFile(p.reactanceOhm()))
                    .append('\n');
        }
        return out.toString();
    }

    /**
     * Reads a one-port file of version 1 or 2: parameters Z, Y or S; formats RI, MA or DB; units Hz, kHz, MHz or GHz.
     *
     * @param text the whole file
     * @param name file name for messages
     * @return impedance points in ohms, ascending in frequency
     * @throws ExchangeException if the text is not such a file; the message holds file and line
     */
    public static List<Point> read(String text, String name) throws ExchangeException {
        return new Reader(name).read(text);
    }

    /**
     * Impedance at one frequency.
     *
     * @param frequencyHz frequency in hertz
     * @param resistanceOhm real part in ohms
     * @param reactanceOhm imaginary part in ohms
     */
    public record Point(double frequencyHz, double resistanceOhm, double reactanceOhm) {}

    /** What such a file holds of a curve: the bands that have both parts. */
    static List<Point> points(ImpedanceCurve curve) {
        return curve.values().stream()
                .filter(v -> v.isMeasured() && Double.isFinite(v.resistanceOhm()) && Double.isFinite(v.reactanceOhm()))
                .map(v -> new Point(v.frequencyHz(), v.resistanceOhm(), v.reactanceOhm()))
                .toList();
    }

    /** The format is ASCII: accents are dropped, everything else outside it becomes a question mark. */
    private static void comment(StringBuilder out, String words) {
        String ascii = Normalizer.normalize(words, Normalizer.Form.NFD)
                .replaceAll("\\p{M}", "")
                .replaceAll("\\s", " ")
                .replaceAll("[^ -~]", "?");
        out.append("! ").append(ascii).append('\n');
    }

    /**
     * Reads one Touchstone file.
     *
     * <p>Option line {@code # unit parameter format R n}, in any order, defaults {@code GHz S MA R 50}; {@code !} starts a
     * comment. Version 1 normalises: {@code Z = R·z}, {@code Y = y/R}. Version 2 gives Z in ohms and Y in siemens as they are,
     * whatever {@code [Reference]} says. {@code S}: {@code Z = R·(1+s)/(1−s)} in both. Angles are in degrees, DB is
     * {@code 20·lg}. Source: Touchstone File Format Specification, version 2.0, IBIS Open Forum.
     */
    private static final class Reader {
        private final String name;
        private int line;

        private boolean versionTwo;
        private boolean optionsSeen;
        private boolean information;
        private boolean ended;
        private double unitHz = 1e9;
        private char parameter = 'S';
        private String format = "MA";
        private double referenceOhm = 50;
        private int announced = -1;
        private boolean referenceFollows;
        private final List<Double> numbers = new ArrayList<>();

        Reader(String name) {
            this.name = name;
        }

        List<Point> read(String text) throws ExchangeException {
            for (String whole : text.lines().toList()) {
                line++;
                int comment = whole.indexOf('!');
                String content = (comment < 0 ? whole : whole.substring(0, comment)).strip();
                if (!content.isEmpty() && !ended) {
                    content(content);
                }
            }
            return points();
        }

        private void content(String content) throws ExchangeException {
            if (content.startsWith("[")) {
                keyword(content);
            } else if (information) {
                return;
            } else if (content.startsWith("#")) {
                // the standard has readers ignore every option line after the first
                if (!optionsSeen) {
                    options(content.substring(1).strip());
                    optionsSeen = true;
                }
            } else if (referenceFollows) {
                referenceOhm = number(content.split("\\s+", -1)[0]);
                referenceFollows = false;
            } else {
                data(content);
            }
        }

        private void keyword(String content) throws ExchangeException {
            int close = content.indexOf(']');
            if (close < 0) {
                throw wrong("\"" + content + "\" has no closing bracket; add it");
            }
            String key =
                    content.substring(1, close).strip().toLowerCase(Locale.ROOT).replaceAll("\\s+", " ");
            String value = content.substring(close + 1).strip();
            switch (key) {
                case "version" -> versionTwo = version(value);
                case "begin information" -> information = true;
                case "end information" -> information = false;
                case "number of ports" -> onePort(value);
                case "number of frequencies" -> announced = (int) number(value);
                case "reference" -> {
                    referenceFollows = value.isEmpty();
                    referenceOhm = referenceFollows ? referenceOhm : number(value.split("\\s+", -1)[0]);
                }
                case "network data" -> referenceFollows = false;
                case "matrix format", "two-port data order" -> {
                    // one port: a single entry, whatever the order
                }
                case "end" -> ended = true;
                default -> throw wrong("the keyword [" + key + "] is not read; give a one-port file without it");
            }
        }

        private boolean version(String value) throws ExchangeException {
            double version = number(value);
            if (!(version >= 2 && version < 3)) {
                throw wrong("version " + value + " is not read; save the file as version 1 or 2");
            }
            return true;
        }

        private void onePort(String value) throws ExchangeException {
            if (number(value) != 1) {
                throw wrong(value + " ports; give a file of one port, usually named .s1p");
            }
        }

        private void options(String content) throws ExchangeException {
            String[] words = content.isEmpty()
                    ? new String[0]
                    : content.toUpperCase(Locale.ROOT).split("\\s+", -1);
            for (int i = 0; i < words.length; i++) {
                switch (words[i]) {
                    case "HZ" -> unitHz = 1;
                    case "KHZ" -> unitHz = 1e3;
                    case "MHZ" -> unitHz = 1e6;
                    case "GHZ" -> unitHz = 1e9;
                    case "S", "Y", "Z" -> parameter = words[i].charAt(0);
                    case "RI", "MA", "DB" -> format = words[i];
                    case "R" -> {
                        i++;
                        referenceOhm = i < words.length ? number(words[i]) : Double.NaN;
                        if (!(referenceOhm > 0)) {
                            throw wrong("R is not followed by a positive number of ohms; write it like R 50");
                        }
                    }
                    default ->
                        throw wrong("the option \"" + words[i] + "\" is not read; use Z, Y or S, and RI, MA or DB");
                }
            }
        }

        private void data(String content) throws ExchangeException {
            String[] words = content.split("\\s+", -1);
            if (words.length != 3) {
                throw wrong(
                        words.length + " numbers instead of 3; one port has a frequency and two numbers on each line");
            }
            for (String word : words) {
                numbers.add(number(word));
            }
            int last = numbers.size() - 3;
            if (last > 0 && !(numbers.get(last) > numbers.get(last - 3))) {
                throw wrong("the frequency " + words[0] + " does not ascend; sort the lines");
            }
        }

        private List<Point> points() throws ExchangeException {
            List<Point> points = new ArrayList<>();
            for (int i = 0; i < numbers.size(); i += 3) {
                Complex z = impedance(value(numbers.get(i + 1), numbers.get(i + 2)));
                points.add(new Point(numbers.get(i) * unitHz, z.getReal(), z.getImaginary()));
            }
            if (points.isEmpty()) {
                throw new ExchangeException(name + ": no data line; give a frequency and two numbers on each line");
            }
            if (announced >= 0 && announced != points.size()) {
                throw new ExchangeException(name + ": " + points.size() + " frequencies, though " + announced
                        + " are announced; the file may be cut short");
            }
            return points;
        }

        private Complex value(double first, double second) {
            return switch (format) {
                case "RI" -> new Complex(first, second);
                case "DB" -> polar(Math.pow(10, first / 20), second);
                default -> polar(first, second);
            };
        }

        private static Complex polar(double modulus, double degrees) {
            double phase = Math.toRadians(degrees);
            return new Complex(modulus * Math.cos(phase), modulus * Math.sin(phase));
        }

        private Complex impedance(Complex value) {
            double scale = versionTwo ? 1 : referenceOhm;
            return switch (parameter) {
                case 'Z' -> value.multiply(scale);
                case 'Y' -> value.reciprocal().multiply(scale);
                default ->
                    Complex.ONE.add(value).divide(Complex.ONE.subtract(value)).multiply(referenceOhm);
            };
        }

        private double number(String word) throws ExchangeException {
            if (!Numbers.isNumber(word)) {
                throw wrong("\"" + word + "\" is no number; write it like 159.15, with a decimal point");
            }
            return Double.parseDouble(word);
        }

        private ExchangeException wrong(String fault) {
            return new ExchangeException(name + ", line " + line + ": " + fault);
        }
    }
}
