package ohmprint.app.library;

import com.fasterxml.jackson.core.io.JsonStringEncoder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.curve.Measurement;
import ohmprint.report.ChartTheme;
import ohmprint.report.OverlayChart;
import ohmprint.report.OverlayData;
import org.jspecify.annotations.Nullable;

/**
 * How the units of one model differ.
 *
 * @param maker its maker, or null for any
 * @param model the model
 * @param units the units, newest measurement first
 * @param bands what half of the units or more have a value for, ascending
 * @param notes what to know about it
 */
public record Spread(@Nullable String maker, String model, List<Unit> units, List<Band> bands, List<String> notes) {
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
        List<OverlayData.Curve> lines = new ArrayList<>();
        for (Unit unit : units) {
            lines.add(new OverlayData.Curve(unit.label(), unit.measurement().curve(), List.of()));
        }
        List<OverlayData.Point> range = bands.stream()
                .map(b -> new OverlayData.Point(b.hz(), b.median(), b.low(), b.high(), false))
                .toList();
        OverlayChart chart = OverlayChart.of(
                new OverlayData(
                        "Spread of " + model,
                        "Source impedance of " + units.size() + " units, their median and 5 % to 95 % range",
                        lines,
                        range,
                        String.join(" ", notes)),
                kind.dark() ? ChartTheme.DARK : ChartTheme.LIGHT);
        return kind.svg() ? chart.svg().getBytes(StandardCharsets.UTF_8) : chart.png();
    }
}
