package ohmprint.app.library;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;
import ohmprint.curve.Usability;
import ohmprint.library.CurveLibrary;
import ohmprint.library.Entry;
import ohmprint.library.Filter;
import ohmprint.library.LibraryException;
import org.apache.commons.math3.stat.descriptive.rank.Percentile;
import org.apache.commons.math3.stat.descriptive.rank.Percentile.EstimationType;
import org.jspecify.annotations.Nullable;

/** How the units of one model differ: median and 5 % to 95 % range of |Z| in each band. */
public final class SpreadOfModel {
    private static final int FEWEST_UNITS = 2;
    private static final int UNITS_FOR_QUANTILES = 19;
    private static final int MOST_MEASUREMENTS = 20_000;

    private SpreadOfModel() {}

    /**
     * The spread of a model.
     *
     * @param maker its maker, or null for any
     * @param model its model
     * @throws BadInputException if there are fewer than two units with a usable curve
     */
    public static Spread run(LibraryPlace place, @Nullable String maker, String model)
            throws BadInputException, IOException {
        return place.with(library -> {
            List<String> notes = new ArrayList<>();
            List<Spread.Unit> units = units(library, maker, model, notes);
            if (units.size() < FEWEST_UNITS) {
                throw new BadInputException("library " + library.location() + " holds "
                        + (units.isEmpty() ? "no unit" : "one unit") + " of model " + model
                        + (maker == null ? "" : " by " + maker) + " with a usable curve; a spread needs two or more");
            }
            return spread(maker, model, units, notes);
        });
    }

    private static List<Spread.Unit> units(
            CurveLibrary library, @Nullable String maker, String model, List<String> notes) throws LibraryException {
        List<Spread.Unit> units = new ArrayList<>();
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
                Measurement m = LibraryReference.read(library, entry.id()).measurement();
                seen.add(entry.microphoneId());
                units.add(new Spread.Unit(entry.id(), entry.label(), m));
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
    static Spread spread(@Nullable String maker, String model, List<Spread.Unit> units, List<String> notes)
            throws BadInputException {
        int fraction = units.stream()
                .mapToInt(u -> u.measurement().curve().bands().fraction())
                .min()
                .orElseThrow();
        double low = Double.POSITIVE_INFINITY;
        double high = 0;
        List<ImpedanceCurve> curves = new ArrayList<>();
        for (Spread.Unit unit : units) {
            FrequencyBands bands = unit.measurement().curve().bands();
            low = Math.min(low, bands.midband(0));
            high = Math.max(high, bands.midband(bands.size() - 1));
            curves.add(unit.measurement().curve());
        }
        int least = Math.max(FEWEST_UNITS, (units.size() + 1) / 2);
        List<Spread.Band> bands = new ArrayList<>();
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

    private static Spread.Band band(double hz, double[] logs) {
        Percentile percentile = new Percentile().withEstimationType(EstimationType.R_6);
        percentile.setData(logs);
        return new Spread.Band(
                hz,
                logs.length,
                Math.exp(percentile.evaluate(5)),
                Math.exp(percentile.evaluate(50)),
                Math.exp(percentile.evaluate(95)));
    }
}
