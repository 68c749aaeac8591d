package ohmprint.study;

import java.util.ArrayList;
import java.util.List;
import ohmprint.study.Cell.Layout;

/**
 * Which cells are run, and how many whole sessions of each kind.
 *
 * @param cells the cells of the fast study
 * @param references cells of the reference route, drawn sample by sample
 * @param followUps cells of levels and of what follows from a curve
 * @param kinds kinds of whole sessions
 * @param wholeSessions sessions of each kind
 */
record StudyPlan(
        List<Cell> cells,
        List<ReferenceCell> references,
        List<StudyCell.Drawn<FollowUpResult>> followUps,
        List<WholeKind> kinds,
        int wholeSessions) {
    /** 0.05 dB as a standard deviation of ln g. */
    static final double UNSTEADY = 0.05 * Math.log(10) / 20;

    /** Least sessions in a cell. */
    static final int SESSIONS = 1000;
    /** Sessions where causes that all bands share dominate, so that a session counts for little more than one value. */
    private static final int MORE_SESSIONS = 3000;
    /** The same with more loads, where the bands tell a part of what they share. */
    private static final int SOME_MORE_SESSIONS = 2000;

    private static final int PLANNER_SESSIONS = 200;
    private static final double STEADY = 0.0005;
    private static final double REFERENCED = 0.0003;
    private static final double[] SNR_DB = {30, 50};
    private static final int WHOLE = 30;
    /** 1 %, what the power route believes of gains. */
    private static final double LEVEL_DRIFT = 0.01;

    private static final int LEVEL_SESSIONS = 400;
    private static final int REPEAT_SESSIONS = 3000;
    private static final int REFERENCE_SESSIONS = 100;
    /** Sessions of a kind that has a requirement of its own. */
    private static final int WHOLE_CHECKED = 40;

    /** Everything: some minutes on two cores. */
    static StudyPlan whole() {
        List<Cell> cells = new ArrayList<>();
        for (StudyCircuit circuit : StudyCircuit.values()) {
            for (LoadSet loads : LoadSet.COHERENT) {
                int more = loads.different() > 2 ? SOME_MORE_SESSIONS : MORE_SESSIONS;
                for (double snr : SNR_DB) {
                    for (StudyRoute route : StudyRoute.values()) {
                        double steady = route == StudyRoute.REFERENCE ? REFERENCED : STEADY;
                        cells.add(spread(circuit, loads, Tolerance.MEASURED, steady, snr, route, SESSIONS));
                        if (route != StudyRoute.REFERENCE) {
                            cells.add(spread(circuit, loads, Tolerance.MEASURED, UNSTEADY, snr, route, more));
                        }
                    }
                }
                cells.add(spread(circuit, loads, Tolerance.BOUGHT, STEADY, 50, StudyRoute.STIMULUS, more));
                if (loads != LoadSet.TWO_AND_FIRST) {
                    cells.add(even(circuit, loads, STEADY, 30, PLANNER_SESSIONS));
                    cells.add(even(circuit, loads, UNSTEADY, 50, PLANNER_SESSIONS));
                }
            }
        }
        return new StudyPlan(
                cells, ReferenceCell.all(REFERENCE_SESSIONS), allFollowUps(), List.of(WholeKind.values()), WHOLE);
    }

    private static List<StudyCell.Drawn<FollowUpResult>> allFollowUps() {
        return List.of(
                new PowerCell(StudyCircuit.COIL_200, LoadSet.FOUR, LEVEL_DRIFT, 10, 600, LEVEL_SESSIONS),
                new PowerCell(StudyCircuit.COIL_200, LoadSet.FOUR, LEVEL_DRIFT / 10, 2, 600, LEVEL_SESSIONS),
                new PowerCell(StudyCircuit.COIL_600, LoadSet.THREE, LEVEL_DRIFT, 10, 600, LEVEL_SESSIONS),
                new PowerCell(StudyCircuit.RIBBON_LEAKY, LoadSet.THREE, LEVEL_DRIFT / 10, 2, 1500, LEVEL_SESSIONS),
                new RepeatCell(StudyCircuit.COIL_200, STEADY, REPEAT_SESSIONS),
                new RepeatCell(StudyCircuit.RIBBON_LEAKY, STEADY, REPEAT_SESSIONS));
    }

    /** A cut of a few seconds that goes through every part. */
    static StudyPlan quick() {
        List<Cell> cells = new ArrayList<>();
        for (StudyCircuit circuit : List.of(StudyCircuit.COIL_200, StudyCircuit.ACTIVE_100)) {
            for (LoadSet loads : List.of(LoadSet.TWO, LoadSet.FOUR)) {
                cells.add(spread(circuit, loads, Tolerance.MEASURED, UNSTEADY, 50, StudyRoute.STIMULUS, 40));
            }
        }
        cells.add(even(StudyCircuit.COIL_200, LoadSet.FOUR, UNSTEADY, 50, 10));
        return new StudyPlan(
                cells,
                ReferenceCell.all(2).subList(0, 1),
                List.of(
                        new PowerCell(StudyCircuit.COIL_200, LoadSet.FOUR, LEVEL_DRIFT, 10, 600, 2),
                        new RepeatCell(StudyCircuit.COIL_200, STEADY, 20)),
                List.of(WholeKind.TWO_LOAD_SWEEP),
                1);
    }

    /** Number of whole sessions of a kind. */
    int sessions(WholeKind kind) {
        boolean checked = kind == WholeKind.RESONANT || WholeKind.ODD.contains(kind);
        return checked && wholeSessions == WHOLE ? WHOLE_CHECKED : wholeSessions;
    }

    /** The cells and kinds of whole sessions in whose name all of the given words occur. */
    StudyPlan only(List<String> words) {
        return new StudyPlan(
                named(cells, words),
                named(references, words),
                named(followUps, words),
                kinds.stream()
                        .filter(k -> words.stream().allMatch(k.words()::contains))
                        .toList(),
                wholeSessions);
    }

    private static <C extends StudyCell> List<C> named(List<C> cells, List<String> words) {
        return cells.stream()
                .filter(c -> words.stream().allMatch(c.name()::contains))
                .toList();
    }

    private static Cell spread(
            StudyCircuit circuit,
            LoadSet loads,
            Tolerance tolerance,
            double drift,
            double snr,
            StudyRoute route,
            int sessions) {
        return new Cell(circuit, loads, tolerance, drift, snr, route, Layout.SPREAD, sessions);
    }

    private static Cell even(StudyCircuit circuit, LoadSet loads, double drift, double snr, int sessions) {
        return new Cell(circuit, loads, Tolerance.MEASURED, drift, snr, StudyRoute.STIMULUS, Layout.EVEN, sessions);
    }
}
