package ohmprint.study;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.function.ToDoubleFunction;
import java.util.stream.Stream;
import ohmprint.study.Cell.Layout;

/**
 * One thing that has to hold in every cell it speaks of.
 *
 * @param words what has to hold
 * @param least smallest value found
 * @param most largest value found
 * @param cells number of cells
 * @param failing names of those that do not hold it, with the kind of fit
 */
record Requirement(String words, double least, double most, int cells, List<String> failing) {
    private static final double LOWEST_COVERAGE = 0.935;
    private static final double HIGHEST_COVERAGE = 0.965;
    private static final double EFFICIENT = 1.05;
    private static final double MUCH_BETTER = 0.85;
    private static final double NEVER_WORSE = 1.02;
    private static final double AS_PREDICTED = 0.15;
    private static final double VARIED = 1.3;
    private static final double RESONANCES_HELD = 0.93;
    private static final long MOST_ACCUSED = 1;

    /** All of them for a study. */
    static List<Requirement> of(Study study) {
        List<Requirement> all = new ArrayList<>(ofCells(study));
        List<WholeResult> resonant = study.kinds().stream()
                .filter(k -> k.kind() == WholeKind.RESONANT)
                .toList();
        if (!resonant.isEmpty()) {
            all.add(ofKinds(
                    "resonances of Q 4 to 12 from 30 to 200 Hz: the interval of \\|Z\\| in the band next to the peak holds the"
                            + " truth in 93 % of the sessions",
                    resonant, WholeResult::peakCoverage, v -> v >= RESONANCES_HELD));
            all.add(ofKinds(
                    "the same in all bands within a third of an octave of the peak",
                    resonant,
                    WholeResult::magnitudeCoverage,
                    v -> v >= RESONANCES_HELD));
        }
        List<WholeResult> odd = study.kinds().stream()
                .filter(k -> WholeKind.ODD.contains(k.kind()))
                .toList();
        if (!odd.isEmpty()) {
            all.add(ofKinds(
                    "no silence, music, stepped sines, a fading tone: a take is accused in one session of 40 at most",
                    odd,
                    WholeResult::told,
                    v -> v <= MOST_ACCUSED));
        }
        return all;
    }

    private static Requirement ofKinds(
            String words, List<WholeResult> results, ToDoubleFunction<WholeResult> value, Predicate<Double> holds) {
        return check(words, results.stream(), value, holds, r -> r.kind().words());
    }

    private static List<Requirement> ofCells(Study study) {
        List<CellResult> usual = study.usual();
        List<CellResult> spread =
                usual.stream().filter(r -> r.cell().layout() == Layout.SPREAD).toList();
        List<CellResult> fitted =
                spread.stream().filter(r -> r.cell().loads().takes() > 2).toList();
        return List.of(
                check(
                        "95 % intervals of \\|Z\\| hold the truth in 93.5 to 96.5 % of the cases",
                        spread.stream(),
                        CellResult::magnitudeCoverage,
                        v -> v >= LOWEST_COVERAGE && v <= HIGHEST_COVERAGE),
                check(
                        "95 % intervals of the phase hold the truth in 93.5 to 96.5 % of the cases",
                        spread.stream(), CellResult::phaseCoverage, v -> v >= LOWEST_COVERAGE && v <= HIGHEST_COVERAGE),
                check(
                        "error of \\|Z\\| at most 1.05 times the bound",
                        spread.stream().filter(Requirement::noiseIsKnown),
                        CellResult::efficiency,
                        v -> v <= EFFICIENT),
                check(
                        "joint fit, four loads, 0.05 dB drift, no reference, \\|Z\\| varying by 1.3 or more, 50 dB: at most"
                                + " 0.85 times the error of the separate fit",
                        fitted.stream()
                                .filter(r -> r.cell().loads() == LoadSet.FOUR
                                        && r.cell().drift() == StudyPlan.UNSTEADY
                                        && r.cell().snrDb() == 50
                                        && r.cell().circuit().variation() >= VARIED),
                        r -> gain(study, r),
                        v -> v <= MUCH_BETTER),
                check(
                        "joint fit never worse than 1.02 times the separate fit",
                        fitted.stream(),
                        r -> gain(study, r),
                        v -> v <= NEVER_WORSE),
                check(
                        "error within 15 % of what the planner foretells",
                        usual.stream().filter(r -> r.cell().layout() == Layout.EVEN),
                        CellResult::overPredicted,
                        v -> Math.abs(v - 1) <= AS_PREDICTED),
                check(
                        "levels and a repeat near the misfit: 95 % intervals of \\|Z\\| hold the truth in 93.5 % of the cases or"
                                + " more",
                        study.followUps().stream(),
                        FollowUpResult::magnitudeCoverage,
                        v -> v >= LOWEST_COVERAGE,
                        r -> r.cell().name()),
                check(
                        "loss by curves of the power route: 95 % intervals hold the truth in 93.5 % of the cases or more",
                        study.followUps().stream().filter(r -> !Double.isNaN(r.lossCoverage())),
                        FollowUpResult::lossCoverage,
                        v -> v >= LOWEST_COVERAGE,
                        r -> r.cell().name()),
                referenced(
                        "reference route, takes drawn sample by sample: 95 % intervals of \\|Z\\| hold the truth in 93.5 to 96.5 %",
                        study, ReferenceCell.Result::magnitudeCoverage),
                referenced("the same of the phase", study, ReferenceCell.Result::phaseCoverage));
    }

    /** Where the noise of the bins is known on average only, no fit can reach the bound of known noise. */
    private static boolean noiseIsKnown(CellResult result) {
        return result.cell().route().noiseScatter() == 0;
    }

    /** Error of the joint fit over that of the separate one. */
    static double gain(Study study, CellResult result) {
        return result.errorPercent() / study.separate(result).errorPercent();
    }

    private static Requirement check(
            String words, Stream<CellResult> results, ToDoubleFunction<CellResult> value, Predicate<Double> holds) {
        return check(
                words,
                results,
                value,
                holds,
                r -> r.fit().words() + ", " + r.cell().name());
    }

    private static Requirement referenced(String words, Study study, ToDoubleFunction<ReferenceCell.Result> coverage) {
        return check(
                words,
                study.references().stream(),
                coverage,
                v -> v >= LOWEST_COVERAGE && v <= HIGHEST_COVERAGE,
                r -> r.cell().name());
    }

    private static <R> Requirement check(
            String words,
            Stream<R> results,
            ToDoubleFunction<R> value,
            Predicate<Double> holds,
            Function<R, String> name) {
        List<R> all = results.toList();
        return new Requirement(
                words,
                all.stream().mapToDouble(value).min().orElse(Double.NaN),
                all.stream().mapToDouble(value).max().orElse(Double.NaN),
                all.size(),
                all.stream()
                        .filter(r -> !holds.test(value.applyAsDouble(r)))
                        .map(name)
                        .toList());
    }

    /** One row of the table. */
    String row() {
        return String.format(Locale.ROOT, "| %s | %d | %.3f | %.3f | %d |", words, cells, least, most, failing.size());
    }
}
