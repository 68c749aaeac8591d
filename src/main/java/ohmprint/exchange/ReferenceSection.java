package ohmprint.exchange;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.BandValue;
import ohmprint.curve.Measurement;
import ohmprint.manifest.Problems;
import ohmprint.manifest.Section;
import ohmprint.spec.ReferenceCurve;
import ohmprint.spec.ReferenceCurve.Point;
import org.jspecify.annotations.Nullable;

/** The {@code reference} of a specification. */
final class ReferenceSection {
    private static final List<String> KEYS =
            List.of("points", "curve", "tolerance_percent", "from_hz", "to_hz", "units");
    /** Most points of a reference: four for each band of ten octaves in 24ths. */
    private static final int MOST_POINTS = 1000;

    private static final List<String> POINT = List.of("hz", "ohm", "low_ohm", "high_ohm", "u95_percent");
    private static final String WANTED =
            "write two or more points by ascending frequency, such as - {hz: 1000, low_ohm: 280, high_ohm: 325}";

    private final Section part;
    private final Problems problems;
    private final @Nullable Double tolerance;

    private ReferenceSection(Section part, Problems problems) {
        this.part = part;
        this.problems = problems;
        this.tolerance = SpecificationReader.tolerance(part);
    }

    /** Null when there is none, or something is wrong with it, which goes to the problems. */
    static @Nullable ReferenceCurve read(Section spec, Problems problems, SpecificationYaml.Curves curves) {
        int before = problems.count();
        Section part = spec.section("reference", KEYS);
        if (part == null) {
            return null;
        }
        ReferenceSection section = new ReferenceSection(part, problems);
        if (part.has("curve") && part.has("points")) {
            part.report("curve", "is given beside points; keep one of the two");
        }
        List<Point> points = part.has("curve") ? section.measured(curves) : section.written();
        Double from = part.positive("from_hz", "Hz", "");
        Double to = part.positive("to_hz", "Hz", "");
        Integer units = section.units();
        return problems.count() > before ? null : section.curve(points, from, to, units);
    }

    private @Nullable ReferenceCurve curve(
            List<Point> points, @Nullable Double from, @Nullable Double to, @Nullable Integer units) {
        String key = part.has("curve") ? "curve" : "points";
        if (points.size() < 2) {
            part.report(
                    key,
                    "holds " + (points.isEmpty() ? "no point" : "one point") + " with a value; "
                            + (part.has("curve") ? "name a curve with values" : WANTED));
            return null;
        }
        double first = points.get(0).hz();
        double last = points.get(points.size() - 1).hz();
        double low = from == null ? first : from;
        double high = to == null ? last : to;
        if (low < first || low >= high || high > last) {
            part.report(
                    from == null ? "to_hz" : "from_hz",
                    "makes the range " + number(low) + " Hz to " + number(high) + " Hz, but the reference holds "
                            + number(first) + " Hz to " + number(last) + " Hz; give a range inside it");
            return null;
        }
        return new ReferenceCurve(points, low, high, units);
    }

    private List<Point> measured(SpecificationYaml.Curves curves) {
        List<Point> points = new ArrayList<>();
        String file = part.text("curve");
        part.require("tolerance_percent", "give how far a curve may lie from this one, in percent");
        if (file == null || tolerance == null) {
            return points;
        }
        try {
            Measurement measurement = curves.read(file);
            if (measurement.curve().parallelWithInput()) {
                part.report(
                        "curve",
                        "is " + part.shown("curve") + ", a curve in parallel with an unknown input; name one that was"
                                + " measured with a known input");
            }
            for (BandValue v : measurement.curve().values()) {
                if (v.isMeasured() && v.magnitudeOhm() > 0 && v.magnitudeU95Ohm() >= 0) {
                    points.add(around(
                            v.frequencyHz(),
                            v.magnitudeOhm(),
                            tolerance,
                            100 * v.magnitudeU95Ohm() / v.magnitudeOhm()));
                }
            }
        } catch (IOException e) {
            part.report(
                    "curve",
                    "is " + part.shown("curve") + ", which cannot be read (" + Problems.shown(reason(e))
                            + "); name a curve.json, relative to the folder of this file");
        }
        return points;
    }

    private static String reason(IOException e) {
        return e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
    }

    private List<Point> written() {
        List<Point> points = new ArrayList<>();
        part.require("points", WANTED);
        List<@Nullable Section> items = part.sections("points", WANTED, POINT);
        if (items == null) {
            return points;
        }
        if (items.size() > MOST_POINTS) {
            part.report("points", "has " + items.size() + " points; write at most " + MOST_POINTS);
            return points;
        }
        Double last = null;
        for (Section item : items) {
            Point point = item == null ? null : point(item);
            if (item != null && point != null) {
                if (last != null && point.hz() <= last) {
                    item.report(
                            "hz",
                            "is " + item.shown("hz") + " Hz, not above the point before it, " + number(last)
                                    + " Hz; sort the points by frequency, each once");
                }
                last = point.hz();
                points.add(point);
            }
        }
        return points;
    }

    private @Nullable Point point(Section item) {
        int before = problems.count();
        item.require("hz", "give the frequency in hertz");
        Double hz = item.positive("hz", "Hz", "");
        Double ohm = item.positive("ohm", "Ω", "");
        Double low = item.positive("low_ohm", "Ω", "");
        Double high = item.positive("high_ohm", "Ω", "");
        Double u95 = item.has("u95_percent") ? item.fromZero("u95_percent", 100, "%") : Double.valueOf(0);
        if (item.has("low_ohm") || item.has("high_ohm")) {
            item.require("low_ohm", "give both limits");
            item.require("high_ohm", "give both limits");
        } else if (tolerance == null) {
            item.require("low_ohm", "give low_ohm and high_ohm, or tolerance_percent of the reference");
        } else {
            item.require("ohm", "give the reference in ohms, or low_ohm and high_ohm");
        }
        if (low != null && high != null) {
            double middle = ohm == null ? Math.sqrt(low * high) : ohm;
            if (low >= high || middle < low || middle > high) {
                item.report(
                        "high_ohm",
                        "is " + item.shown("high_ohm") + " Ω with low_ohm " + item.shown("low_ohm")
                                + " Ω" + (ohm == null ? "" : " and ohm " + item.shown("ohm") + " Ω")
                                + "; give low_ohm the smallest and high_ohm the largest value");
            } else if (problems.count() == before && hz != null && u95 != null) {
                return new Point(hz, middle, low, high, u95);
            }
        }
        return problems.count() > before || hz == null || ohm == null || tolerance == null || u95 == null
                ? null
                : around(hz, ohm, tolerance, u95);
    }

    private static Point around(double hz, double ohm, double tolerancePercent, double u95Percent) {
        return new Point(hz, ohm, ohm * (1 - tolerancePercent / 100), ohm * (1 + tolerancePercent / 100), u95Percent);
    }

    private @Nullable Integer units() {
        Double units = part.positive("units", "microphones", "");
        if (units != null && (units != Math.rint(units) || units > Integer.MAX_VALUE)) {
            part.report("units", "is " + part.shown("units") + "; give a whole number of microphones");
            return null;
        }
        return units == null ? null : Integer.valueOf(units.intValue());
    }

    private static String number(double value) {
        return Numbers.text(value);
    }
}
