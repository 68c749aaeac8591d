package ohmprint.study;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.DoubleConsumer;
import java.util.function.LongConsumer;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.study.Cell.Layout;

/**
 * Runs a plan on all processors.
 *
 * @param plan what was run
 * @param cells one result per cell and kind of fit, in the plan's order
 * @param references one result per cell of the reference route
 * @param followUps one result per cell of levels and of what follows from a curve
 * @param kinds one result per kind of whole session
 */
record Study(
        StudyPlan plan,
        List<CellResult> cells,
        List<ReferenceCell.Result> references,
        List<FollowUpResult> followUps,
        List<WholeResult> kinds) {
    /** What a whole session costs, in sessions of the fast study. */
    private static final long WHOLE_COST = 3500;

    /**
     * Runs it.
     *
     * @param plan what to run
     * @param work folder for sessions while they are measured
     * @param progress told the share of the work that is done, from several threads
     */
    static Study run(StudyPlan plan, Path work, DoubleConsumer progress) throws IOException {
        long total = plan.cells().stream().mapToLong(Study::cost).sum()
                + Stream.of(plan.followUps(), plan.references())
                        .flatMap(List::stream)
                        .mapToLong(c -> c.costOfOne() * c.sessions())
                        .sum()
                + WHOLE_COST * plan.kinds().stream().mapToLong(plan::sessions).sum();
        AtomicLong done = new AtomicLong();
        LongConsumer spent = cost -> progress.accept((double) done.addAndGet(cost) / total);
        Map<Integer, List<CellResult>> results = new LinkedHashMap<>();
        List<Integer> order = IntStream.range(0, plan.cells().size())
                .boxed()
                .sorted(Comparator.comparingLong(i -> -cost(plan.cells().get(i))))
                .toList();
        order.parallelStream().forEach(i -> {
            Cell cell = plan.cells().get(i);
            long each = cost(cell) / cell.sessions();
            Map<Fit, CellResult> of = new CellStudy(cell).run(fits(cell), () -> spent.accept(each));
            synchronized (results) {
                results.put(i, List.copyOf(of.values()));
            }
        });
        List<CellResult> cells = new ArrayList<>();
        for (int i = 0; i < plan.cells().size(); i++) {
            cells.addAll(results.getOrDefault(i, List.of()));
        }
        List<FollowUpResult> followUps = drawn(plan.followUps(), spent);
        List<ReferenceCell.Result> references = drawn(plan.references(), spent);
        List<WholeResult> kinds = new ArrayList<>();
        for (WholeKind kind : plan.kinds()) {
            WholeSession.Score[] scores = new WholeSession.Score[plan.sessions(kind)];
            Files.createDirectories(work);
            IntStream.range(0, scores.length).parallel().forEach(n -> {
                scores[n] = session(kind, n, work);
                spent.accept(WHOLE_COST);
            });
            kinds.add(WholeResult.of(kind, Arrays.asList(scores)));
        }
        return new Study(plan, cells, references, followUps, kinds);
    }

    private static <R> List<R> drawn(List<? extends StudyCell.Drawn<R>> cells, LongConsumer spent) {
        return cells.parallelStream()
                .map(c -> c.run(() -> spent.accept(c.costOfOne())))
                .toList();
    }

    /** With two takes both kinds of fit are the same. */
    private static List<Fit> fits(Cell cell) {
        return cell.loads().takes() > 2 ? List.of(Fit.values()) : List.of(Fit.usual());
    }

    private static long cost(Cell cell) {
        return (long) cell.sessions()
                * (cell.layout() == Layout.EVEN ? 12 : 1)
                * (fits(cell).size() > 1 ? 4 : 1);
    }

    private static WholeSession.Score session(WholeKind kind, int number, Path work) {
        try {
            return WholeSession.run(kind, number, work);
        } catch (IOException | BadInputException e) {
            throw new IllegalStateException("session " + number + " of kind " + kind.word() + ": " + e.getMessage(), e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException(e);
        }
    }

    /** Results of the fit that {@code measure} uses. */
    List<CellResult> usual() {
        return cells.stream().filter(r -> r.fit() == Fit.usual()).toList();
    }

    /** The result of the same cell with the separate fit, or the result itself where both are the same. */
    CellResult separate(CellResult result) {
        return cells.stream()
                .filter(r -> r.cell().equals(result.cell()) && r.fit() == Fit.SEPARATE)
                .findFirst()
                .orElse(result);
    }
}
