package ohmprint.app.workspace;

import java.util.List;
import ohmprint.app.library.Spread;
import org.jspecify.annotations.Nullable;

/**
 * How the units of one model differ, in plain values.
 *
 * @param model the model
 * @param maker its maker, or null for any
 * @param units the units, newest measurement first
 * @param frequencyHz midbands in hertz, of what half of the units or more have a value for
 * @param unitsPerBand how many have a value there
 * @param low 5 % of units are below, ohms
 * @param median half of them are below, ohms
 * @param high 5 % of units are above, ohms
 * @param notes what to know about it, sentences
 * @param specificationYaml the same as a specification
 */
public record SpreadView(
        String model,
        @Nullable String maker,
        List<Unit> units,
        double[] frequencyHz,
        int[] unitsPerBand,
        double[] low,
        double[] median,
        double[] high,
        List<String> notes,
        String specificationYaml) {
    /**
     * One unit.
     *
     * @param id identifier of its newest measurement
     * @param label what the bench calls it
     * @param bands its curve
     */
    public record Unit(String id, String label, CurveView.Bands bands) {}

    static SpreadView of(Spread spread) {
        List<Spread.Band> bands = spread.bands();
        return new SpreadView(
                spread.model(),
                spread.maker(),
                spread.units().stream()
                        .map(u -> new Unit(
                                u.id(),
                                u.label(),
                                CurveView.Bands.of(u.measurement().curve().values())))
                        .toList(),
                bands.stream().mapToDouble(Spread.Band::hz).toArray(),
                bands.stream().mapToInt(Spread.Band::units).toArray(),
                bands.stream().mapToDouble(Spread.Band::low).toArray(),
                bands.stream().mapToDouble(Spread.Band::median).toArray(),
                bands.stream().mapToDouble(Spread.Band::high).toArray(),
                spread.notes(),
                spread.specification());
    }
}
