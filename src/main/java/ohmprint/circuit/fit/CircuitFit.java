package ohmprint.circuit.fit;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import ohmprint.circuit.fit.FittedCircuit.Estimate;
import ohmprint.circuit.fit.Part.Value;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.jspecify.annotations.Nullable;

/** Fits circuits to a curve and chooses among them. */
public final class CircuitFit {
    /** Fewest bands with a value. */
    public static final int LEAST_BANDS = 8;

    /** By how much a part that fits in anywhere has to improve the criterion beyond its parameters. */
    private static final double ANYWHERE_EARNS = 10;
    /** A family that was stated is kept unless another is better by this. */
    private static final double RULED_OUT = 10;

    /** Circuits whose criterion is worse by no more than this still have considerable support. */
    private static final double HARDLY_WORSE = 4;

    private static final double STEP = 1e-6;
    /** Largest standard uncertainty that counts, as a logarithm: a circuit that says less than that says nothing. */
    private static final double UNKNOWN = 2;

    private final Points points;
    private final List<Fit> fits;
    private final double factor;
    private final IdentityHashMap<Fit, RealMatrix> covariances = new IdentityHashMap<>();
    private final IdentityHashMap<Fit, List<Fit>> alike = new IdentityHashMap<>();

    private CircuitFit(Points points, @Nullable Family family) {
        this.points = points;
        this.fits =
                Candidates.fitted(points, family).stream().map(Fit::byFrequency).toList();
        this.factor = Math.max(
                1, fits.stream().mapToDouble(f -> f.scatter(points)).min().orElse(1));
    }

    /**
     * The circuit behind a curve.
     *
     * @param curve the curve, with phase or with magnitude and resistance
     * @param transducer what the session states, {@code moving-coil}, {@code ribbon} or {@code condenser}, or null
     * @param family the only family to consider, or null for all
     * @throws IllegalArgumentException if too few bands hold a value
     */
    public static FittedCircuit of(ImpedanceCurve curve, @Nullable String transducer, @Nullable Family family) {
        Points points = new Points(curve);
        if (points.bands() < LEAST_BANDS) {
            throw new IllegalArgumentException("a circuit needs a value in " + LEAST_BANDS
                    + " bands or more, and the curve holds " + points.bands() + "; measure more of the range");
        }
        return new CircuitFit(points, family).chosen(transducer);
    }

    private double criterion(Fit fit) {
        return fit.criterion(points, factor) + ANYWHERE_EARNS * fit.candidate().anywhere();
    }

    private FittedCircuit chosen(@Nullable String transducer) {
        List<Fit> allowed = fits.stream()
                .sorted(Comparator.comparingDouble(this::criterion))
                .toList();
        Fit chosen = simplest(suiting(allowed, transducer));
        List<Estimate> values = new ArrayList<>();
        for (Value value : chosen.candidate().part().values()) {
            values.add(stated(chosen, value, fit -> reading(fit, value.name())));
        }
        return new FittedCircuit(
                chosen,
                values.stream().map(v -> reached(chosen, v, values)).toList(),
                chosen.candidate().family() == Family.CAPACITOR_COUPLED
                        ? null
                        : values.get(0).called("dc_resistance_ohm"),
                topInductance(chosen),
                misfit(chosen),
                rivals(allowed, chosen),
                points.hz(0),
                points.hz(points.bands() - 1));
    }

    private List<Fit> alike(Fit chosen) {
        return alike.computeIfAbsent(
                chosen, c -> fits.stream().map(fit -> fit.like(c)).toList());
    }

    /** The fits of families that may be the stated one, unless all of them are ruled out; best first. */
    private List<Fit> suiting(List<Fit> allowed, @Nullable String transducer) {
        if (transducer == null) {
            return allowed;
        }
        double limit = criterion(allowed.get(0)) + RULED_OUT;
        List<Fit> suiting = allowed.stream()
                .filter(f -> criterion(f) <= limit && f.candidate().family().suits(transducer))
                .toList();
        return suiting.isEmpty() ? allowed : suiting;
    }

    /** The one of fewest values among those that the curve hardly tells from the best. */
    private Fit simplest(List<Fit> bestFirst) {
        double limit = criterion(bestFirst.get(0)) + HARDLY_WORSE;
        return bestFirst.stream()
                .filter(f -> criterion(f) <= limit)
                .min(Comparator.comparingInt(Fit::size).thenComparingDouble(this::criterion))
                .orElse(bestFirst.get(0));
    }

    private static @Nullable ToDoubleFunction<double[]> reading(Fit fit, String name) {
        for (Value value : fit.candidate().part().values()) {
            if (value.name().equals(name)) {
                return p -> value.of().from(p, 0);
            }
        }
        return null;
    }

    /** A value of the circuit, with the largest variance that a circuit which the curve hardly tells from it gives it. */
    private Estimate stated(Fit chosen, Value value, Function<Fit, @Nullable ToDoubleFunction<double[]>> of) {
        double own = scaled(value, Objects.requireNonNull(of.apply(chosen)).applyAsDouble(chosen.p()));
        double most = value.positive() ? UNKNOWN * UNKNOWN : Double.POSITIVE_INFINITY;
        double limit = criterion(chosen) + HARDLY_WORSE;
        double variance = 0;
        for (Fit fit : alike(chosen)) {
            Family family = fit.candidate().family();
            ToDoubleFunction<double[]> same = of.apply(fit);
            if (same != null
                    && criterion(fit) <= limit
                    && (family == chosen.candidate().family() || family == Family.PLAIN)) {
                double off = scaled(value, same.applyAsDouble(fit.p())) - own;
                double its = variance(fit, p -> scaled(value, same.applyAsDouble(p))) + off * off;
                variance = Math.max(variance, Math.min(most, its));
            }
        }
        return estimate(value, own, Math.sqrt(variance));
    }

    /** Whether the curve rules out every circuit that lacks a value and is otherwise part of the chosen one. */
    private boolean needed(Fit chosen, String name) {
        Set<String> all = names(chosen);
        double limit = criterion(chosen) + RULED_OUT;
        return fits.stream()
                .filter(f -> criterion(f) < limit)
                .map(CircuitFit::names)
                .noneMatch(names -> !names.contains(name) && all.containsAll(names));
    }

    private static Set<String> names(Fit fit) {
        return fit.candidate().part().values().stream().map(Value::name).collect(Collectors.toSet());
    }

    private static double scaled(Value value, double x) {
        return value.positive() ? Math.log(x) : x;
    }

    private Estimate estimate(Value value, double scaled, double u) {
        double k = CoverageFactor.NORMAL * u;
        double low = value.positive() ? Math.exp(scaled - k) : scaled - k;
        double high = value.positive() ? Math.exp(scaled + k) : scaled + k;
        double middle = value.positive() ? Math.exp(scaled) : scaled;
        return new Estimate(value.name(), value.unit(), middle, low, high, high - low < Math.abs(middle));
    }

    /** Not determined is what belongs to a resonance beyond the curve, and what the curve could do without. */
    private Estimate reached(Fit chosen, Estimate value, List<Estimate> all) {
        int cut = Math.max(0, value.name().lastIndexOf('_'));
        String hz = value.name().substring(0, cut) + "_hz";
        boolean beyond = all.stream()
                .anyMatch(v ->
                        v.name().equals(hz) && (v.value() < points.hz(0) || v.value() > points.hz(points.bands() - 1)));
        return beyond || !needed(chosen, value.name()) ? value.notDetermined() : value;
    }

    /** Variance of a function of the parameters, to first order. */
    private double variance(Fit fit, ToDoubleFunction<double[]> function) {
        RealMatrix covariance = covariances.computeIfAbsent(fit, f -> f.covariance(points));
        RealVector gradient = new ArrayRealVector(fit.size());
        for (int i = 0; i < fit.size(); i++) {
            double[] up = fit.p().clone();
            double[] down = fit.p().clone();
            up[i] += STEP;
            down[i] -= STEP;
            gradient.setEntry(i, (function.applyAsDouble(up) - function.applyAsDouble(down)) / (2 * STEP));
        }
        return gradient.dotProduct(covariance.operate(gradient));
    }

    private Estimate topInductance(Fit chosen) {
        double omega = 2 * Math.PI * points.hz(points.bands() - 1);
        Value top = new Value("top_inductance_henry", "H", false, (p, at) -> Double.NaN);
        return stated(chosen, top, fit -> {
            Part part = fit.candidate().part();
            return p -> part.impedance(omega, p, 0, new Complex[p.length]).getImaginary() / omega;
        });
    }

    private FittedCircuit.Misfit misfit(Fit chosen) {
        double sum = 0;
        double worst = 0;
        double worstHz = points.hz(0);
        for (int b = 0; b < points.bands(); b++) {
            Complex z = points.ohms(b);
            Complex fitted = chosen.impedance(points.hz(b));
            double off = points.phase() ? fitted.subtract(z).abs() / z.abs() : Math.abs(fitted.abs() / z.abs() - 1);
            sum += off * off;
            if (off > worst) {
                worst = off;
                worstHz = points.hz(b);
            }
        }
        return new FittedCircuit.Misfit(
                100 * Math.sqrt(sum / points.bands()), 100 * worst, worstHz, chosen.scatter(points));
    }

    private List<FittedCircuit.Rival> rivals(List<Fit> allowed, Fit chosen) {
        List<FittedCircuit.Rival> out = new ArrayList<>();
        for (Fit fit : allowed) {
            Family family = fit.candidate().family();
            if (family != chosen.candidate().family() && out.stream().noneMatch(r -> r.family() == family)) {
                out.add(new FittedCircuit.Rival(family, fit.candidate().words(), criterion(fit) - criterion(chosen)));
            }
        }
        return out;
    }
}
