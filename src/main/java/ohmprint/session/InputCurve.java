package ohmprint.session;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import ohmprint.circuit.InputImpedance;
import ohmprint.impedance.Permitted;
import ohmprint.yaml.ManifestException;
import ohmprint.yaml.ManifestText;
import ohmprint.yaml.Problems;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * The CSV file of a measured input impedance.
 *
 * <p>The first line names the columns. {@code frequency_hz}, {@code resistance_ohm} and {@code reactance_ohm} are
 * required; {@code magnitude_u95_ohm} is the 95 % expanded uncertainty of |Z| in ohms, half of which is taken as the
 * standard uncertainty (1 % of |Z| where it is not given); rows whose {@code status} is not {@code measured} are left
 * out; other columns are not read. Fields are separated by commas, decimals by a point. A curve written by a measurement
 * has these columns.
 */
public final class InputCurve {
    private static final List<String> REQUIRED = List.of("frequency_hz", "resistance_ohm", "reactance_ohm");
    private static final double DEFAULT_RELATIVE_UNCERTAINTY = 0.01;

    private final String name;
    private final Problems problems;
    private final List<Double> hz = new ArrayList<>();
    private final List<Complex> ohms = new ArrayList<>();
    private final List<Double> uncertainties = new ArrayList<>();

    private InputCurve(String name, Problems problems) {
        this.name = name;
        this.problems = problems;
    }

    /**
     * The curve in a file.
     *
     * @throws ManifestException with everything that is wrong with it
     */
    public static InputImpedance read(Path file) throws ManifestException {
        Problems problems = new Problems(String.valueOf(file.getFileName()));
        InputImpedance curve = read(file, Problems.shown(file.toString()), problems);
        problems.throwIfAny();
        if (curve == null) {
            throw new IllegalStateException(file + " is unusable without a problem reported");
        }
        return curve;
    }

    /** The curve in a file; null when something is wrong with it, which goes to the problems. */
    static @Nullable InputImpedance read(Path file, String name, Problems problems) {
        try {
            return new InputCurve(name, problems).parse(ManifestText.read(file, name));
        } catch (ManifestException e) {
            e.problems().forEach(p -> problems.add(p.file(), p.line(), p.message()));
            return null;
        }
    }

    private @Nullable InputImpedance parse(String text) {
        List<String> lines = text.lines().toList();
        List<String> header = fields(lines.get(0));
        for (String column : REQUIRED) {
            if (!header.contains(column)) {
                problems.add(
                        name,
                        1,
                        "has no column " + column + "; name the columns in the first line: "
                                + String.join(",", REQUIRED));
                return null;
            }
        }
        int before = problems.count();
        for (int i = 1; i < lines.size(); i++) {
            if (!lines.get(i).isBlank()) {
                row(header, fields(lines.get(i)), i + 1);
            }
        }
        if (problems.count() > before) {
            return null;
        }
        if (hz.size() < 2) {
            problems.add(name, 0, "holds " + hz.size() + " usable points; an input curve needs two or more");
            return null;
        }
        return InputImpedance.ofCurve(doubles(hz), ohms.toArray(Complex[]::new), doubles(uncertainties));
    }

    private void row(List<String> header, List<String> row, int line) {
        if (row.size() != header.size()) {
            problems.add(
                    name,
                    line,
                    "has " + row.size() + " fields, the first line " + header.size()
                            + "; separate fields by commas, decimals by a point");
            return;
        }
        int status = header.indexOf("status");
        if (status >= 0 && !row.get(status).equals("measured")) {
            return;
        }
        double f = number(header, row, "frequency_hz", line);
        Complex z =
                new Complex(number(header, row, "resistance_ohm", line), number(header, row, "reactance_ohm", line));
        int column = header.indexOf("magnitude_u95_ohm");
        double u = column < 0 || row.get(column).isEmpty()
                ? DEFAULT_RELATIVE_UNCERTAINTY
                : number(header, row, "magnitude_u95_ohm", line) / 2 / z.abs();
        if (Double.isNaN(f + u) || z.isNaN()) {
            return;
        }
        double last = hz.isEmpty() ? 0 : hz.get(hz.size() - 1);
        if (!(f > last)) {
            problems.add(name, line, "frequency_hz is " + f + " after " + last + "; give frequencies that rise");
        } else if (!Permitted.HERTZ.holds(f)) {
            problems.add(name, line, "frequency_hz is " + f + " Hz; give it from " + Permitted.HERTZ.words());
        } else if (z.abs() > 0 && !Permitted.CURVE_OHM.holds(z.abs())) {
            problems.add(
                    name,
                    line,
                    "an impedance of " + z.abs() + " Ω is not usable; give it from " + Permitted.CURVE_OHM.words());
        } else if (u > 0 && !Permitted.PERCENT.holds(100 * u)) {
            problems.add(
                    name,
                    line,
                    "a relative standard uncertainty of " + 100 * u + " % is not usable; give none, or one from "
                            + Permitted.PERCENT.words() + " of the impedance");
        } else if (!(z.abs() > 0) || !(u >= 0) || u >= 1) {
            problems.add(
                    name,
                    line,
                    "an impedance of " + z.abs() + " Ω with a relative standard uncertainty of " + u
                            + " is not usable; give an impedance above 0 Ω known to better than itself");
        } else {
            hz.add(f);
            ohms.add(z);
            uncertainties.add(u);
        }
    }

    /** The number in a column; NaN, with a problem, when it is not a finite one. */
    private double number(List<String> header, List<String> row, String column, int line) {
        String field = row.get(header.indexOf(column));
        try {
            double value = Double.parseDouble(field);
            if (Double.isFinite(value)) {
                return value;
            }
        } catch (NumberFormatException e) {
            // Told below, as for a number that is not finite.
        }
        problems.add(
                name, line, column + " is '" + Problems.shown(field) + "'; give a plain number, decimals by a point");
        return Double.NaN;
    }

    private static List<String> fields(String line) {
        return Arrays.stream(line.split(",", -1)).map(String::strip).toList();
    }

    private static double[] doubles(List<Double> values) {
        return values.stream().mapToDouble(Double::doubleValue).toArray();
    }
}
