package ohmprint.app.plan;

import java.util.Arrays;
import java.util.List;
import ohmprint.app.plan.LoadPlan.LoadSet;
import ohmprint.app.plan.PlanRequest.Bench;
import ohmprint.app.plan.PlanRequest.Expected;
import ohmprint.app.plan.PlanRequest.Resistors;

/** What plans are asked for in the tests of them, and the set of so many loads in one. */
final class Plans {
    static final double OPEN = Double.POSITIVE_INFINITY;

    private Plans() {}

    static LoadSet of(LoadPlan plan, int size) {
        return plan.sets().stream()
                .filter(s -> s.loadsOhm().size() == size)
                .findFirst()
                .orElseThrow();
    }

    static PlanRequest stock(Double minimum, double... ohms) {
        List<Double> stock = Arrays.stream(ohms).boxed().toList();
        return request(Expected.ofOhms(300), 3000, 5, Bench.USUAL, new Resistors("E12", stock, 1, minimum));
    }

    static PlanRequest range(Expected expected, Double from, Double to) {
        return new PlanRequest(expected, 3000, 5, 0, from, to, Bench.USUAL, Resistors.USUAL, null);
    }

    static PlanRequest wanted(double percent, double seconds) {
        Bench bench = new Bench(Bench.USUAL.driftPercent(), 40, seconds);
        return new PlanRequest(Expected.ofOhms(300), 3000, 5, 0, null, null, bench, Resistors.USUAL, percent);
    }

    static PlanRequest request(Expected expected, double input, double tolerance, Bench bench, Resistors resistors) {
        return new PlanRequest(expected, input, tolerance, 0, null, null, bench, resistors, null);
    }
}
