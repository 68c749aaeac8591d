package ohmprint.app.library;

import com.fasterxml.jackson.core.io.JsonStringEncoder;
import java.io.IOException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.chart.OverlayChart;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Usability;
import ohmprint.library.CurveLibrary;
import ohmprint.library.Entry;
import ohmprint.library.Filter;
import ohmprint.library.LibraryException;
import org.apache.commons.math3.stat.descriptive.rank.Percentile;
import org.apache.commons.math3.stat.descriptive.rank.Percentile.EstimationType;
import org.jspecify.annotations.Nullable;

/**
 * How the units of one model differ: median and 5 % to 95 % range of |Z| in each band.
 *
 * @param maker its maker, or null for any
 * @param model the model
 * @param units the units, newest measurement first
 * @param bands what half of the units or more have a value for, ascending
 * @param notes what to know about it
 */
public record Spread(@Nullable String maker, String model, List<Unit> units, List<Band> bands, List<String> notes) {
    private static final int FEWEST_UNITS = 2;
    private static final int UNITS_FOR_QUANTILES = 19;
    private static final int MOST_MEASUREMENTS = 20_000;

    /** Copies the lists. */
    public Spread {
        units = List.copyOf(units);
        bands = List.copyOf(bands);
        notes = List.copyOf(notes);
    }

    /**
     * One unit.
     *
     * @param id identifier of its newest measurement
     * @param label what the bench calls it
     * @param measurement that measurement
     */
    public record Unit(String id, String label, Measurement measurement) {}

    /**
     * The units in one band, in ohms.
     *
     * @param hz midband in hertz
     * @param units how many have a value
     * @param low 5 % of units are below
     * @param median half of them are below
     * @param high 5 % of units are above
     */
    public record Band(double hz, int units, double low, double median, double high) {}

    /**
     * The spread of a model.
     *
     * @param maker its maker, or null for any
     * @param model its model
     * @throws BadInputException if there are fewer than two units with a usable curve
     */
    public static Spread of(LibraryConnection place, @Nullable String maker, String model)
            throws BadInputException, IOException {
        return place.with(library -> {
            List<String> notes = new ArrayList<>();
            List<Unit> units = units(library, maker, model, notes);
            if (units.size() < FEWEST_UNITS) {
                throw new BadInputException("library " + library.location() + " holds "
                        + (units.isEmpty() ? "no unit" : "one unit") + " of model " + model
                        + (maker == null ? "" : " by " + maker) + " with a usable curve; a spread needs two or more");
            }
            return spread(maker, model, units, notes);
        });
    }

    private static List<Unit> units(CurveLibrary library, @Nullable String maker, String model, List<String> notes)
            throws LibraryException {
        List<Unit> units = new ArrayList<>();
        Set<String> seen = new HashSet<>();
        int unusable = 0;
        int parallel = 0;
        for (Entry entry :
                library.page(Filter.ofModel(maker, model), MOST_MEASUREMENTS).entries()) {
            if (seen.contains(entry.microphoneId())) {
                continue;
            }
            if (entry.verdict().equals(Usability.UNUSABLE.word())) {
                unusable++;
            } else if (entry.parallelWithInput()) {
                parallel++;
            } else {
                Measurement m =
                        LibraryReference.read(entry, library.document(entry)).measurement();
                seen.add(entry.microphoneId());
                units.add(new Unit(entry.id(), entry.label(), m));
            }
        }
        if (unusable > 0) {
            notes.add(unusable + " unusable " + (unusable == 1 ? "measurement is" : "measurements are") + " left out.");
        }
        if (parallel > 0) {
            notes.add(parallel + " in parallel with an unknown input " + (parallel == 1 ? "is" : "are") + " left out.");
        }
        return units;
    }

    /** Quantiles of the units in each band of the coarsest grid among them. */
    static Spread spread(@Nullable String maker, String model, List<Unit> units, List<String> notes)
            throws BadInputException {
        int fraction = units.stream()
                .mapToInt(u -> u.measurement().curve().bands().fraction())
                .min()
                .orElseThrow();
        double low = Double.POSITIVE_INFINITY;
        double high = 0;
        List<ImpedanceCurve> curves = new ArrayList<>();
        for (Unit unit : units) {
            FrequencyBands bands = unit.measurement().curve().bands();
            low = Math.min(low, bands.midband(0));
            high = Math.max(high, bands.midband(bands.size() - 1));
            curves.add(unit.measurement().curve());
        }
        int least = Math.max(FEWEST_UNITS, (units.size() + 1) / 2);
        List<Band> bands = new ArrayList<>();
        for (double hz :
                FrequencyBands.within(fraction, low * 0.999, high * 1.001).midbands()) {
            double[] logs = curves.stream()
                    .map(c -> c.at(hz))
                    .filter(v -> v.isMeasured() && v.magnitudeOhm() > 0)
                    .mapToDouble(v -> Math.log(v.magnitudeOhm()))
                    .toArray();
            if (logs.length >= least) {
                bands.add(band(hz, logs));
            }
        }
        if (bands.size() < 2) {
            throw new BadInputException("the units of model " + model
                    + " share fewer than two bands with a value; measure" + " them over the same range");
        }
        if (units.size() < UNITS_FOR_QUANTILES) {
            notes.add("With fewer than " + UNITS_FOR_QUANTILES + " units the 5 % and 95 % limits are the least and the"
                    + " greatest value of these " + units.size()
                    + "; the next sound unit may well lie outside.");
        }
        notes.add("Uncertainty of the measurements is part of the spread.");
        return new Spread(maker, model, units, bands, notes);
    }

    private static Band band(double hz, double[] logs) {
        Percentile percentile = new Percentile().withEstimationType(EstimationType.R_6);
        percentile.setData(logs);
        return new Band(
                hz,
                logs.length,
                Math.exp(percentile.evaluate(5)),
                Math.exp(percentile.evaluate(50)),
                Math.exp(percentile.evaluate(95)));
    }

    /**
     * The spread as a specification for {@code check}: a reference with limits to both sides, YAML. Bands in which all units
     * agree to the last digit leave no room and are left out.
     */
    public String specification() {
        StringBuilder text = new StringBuilder("version: 1\n");
        text.append("name: ").append(quoted("Spread of " + model)).append('\n');
        text.append("notes: ")
                .append(quoted(
                        "Median and 5 % to 95 % range of " + units.size() + " units. " + String.join(" ", notes)))
                .append('\n');
        text.append("microphone: {");
        if (maker != null) {
            text.append("maker: ").append(quoted(maker)).append(", ");
        }
        text.append("model: ").append(quoted(model)).append("}\n");
        text.append("reference:\n  units: ").append(units.size()).append("\n  points:\n");
        for (Band b : bands) {
            if (b.low() < b.high()) {
                text.append(String.format(
                        Locale.ROOT,
                        "    - {hz: %s, ohm: %s, low_ohm: %s, high_ohm: %s}\n",
                        b.hz(),
                        b.median(),
                        b.low(),
                        b.high()));
            }
        }
        return text.toString();
    }

    /** A string of JSON is one of YAML too. */
    private static String quoted(String text) {
        return "\"" + new String(JsonStringEncoder.getInstance().quoteAsString(text)) + "\"";
    }

    /** The picture as the bytes of a file. */
    public byte[] picture(PictureKind kind) {
        List<OverlayChart.Curve> lines = new ArrayList<>();
        for (Unit unit : units) {
            lines.add(new OverlayChart.Curve(unit.label(), unit.measurement().curve(), List.of()));
        }
        List<OverlayChart.Point> range = bands.stream()
                .map(b -> new OverlayChart.Point(b.hz(), b.median(), b.low(), b.high(), false))
                .toList();
        return kind.draw(new OverlayChart.Data(
                "Spread of " + model,
                "Source impedance of " + units.size() + " units, their median and 5 % to 95 % range",
                lines,
                range,
                String.join(" ", notes)));
    }
}
