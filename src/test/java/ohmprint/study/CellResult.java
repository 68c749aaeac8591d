package ohmprint.study;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;

/**
 * What one cell gave with one kind of fit.
 *
 * @param cell the cell
 * @param fit the kind of fit
 * @param values number of values, sessions times bands less those without a value
 * @param rejected number of bands without a value
 * @param magnitudeCoverage share of the 95 % intervals of |Z| that hold the truth
 * @param phaseCoverage the same of the phase
 * @param errorPercent root mean square of the relative error of |Z|, percent
 * @param efficiency root mean square of the error over the bound of {@link CramerRao} that all bands reach together
 * @param alone the same over the bound of each band by itself
 * @param overPredicted root mean square of the error over what {@link ohmprint.estimation.UncertaintyPredictor} foretells; NaN where it cannot
 * @param biasPercent mean relative error of |Z|, percent
 * @param biasOverError largest mean error of a band over the root mean square of its error
 * @param statedOverError root mean square of the stated standard uncertainty (U/1.96) over that of the error
 */
record CellResult(
        Cell cell,
        Fit fit,
        long values,
        long rejected,
        double magnitudeCoverage,
        double phaseCoverage,
        double errorPercent,
        double efficiency,
        double alone,
        double overPredicted,
        double biasPercent,
        double biasOverError,
        double statedOverError) {
    /** Results under the names of their cells, in the order of the loads. */
    static Map<String, List<CellResult>> grouped(List<CellResult> results, Function<Cell, String> name) {
        Map<String, List<CellResult>> groups = new LinkedHashMap<>();
        for (LoadSet loads : LoadSet.values()) {
            results.stream()
                    .filter(r -> r.cell().loads() == loads)
                    .forEach(r -> groups.computeIfAbsent(name.apply(r.cell()), n -> new ArrayList<>())
                            .add(r));
        }
        return groups;
    }
}
