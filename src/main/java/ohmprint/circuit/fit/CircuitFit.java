package ohmprint.circuit.fit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.function.ToDoubleFunction;
import ohmprint.curve.ImpedanceCurve;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.jspecify.annotations.Nullable;

/** Fits circuits to a curve and chooses among them. */
public final class CircuitFit {
    /** Fewest bands with a value. */
    public static final int LEAST_BANDS = 8;

    /** By how much a resonance has to improve the criterion beyond its parameters. */
    private static final double RESONANCE_EARNS = 10;
    /** A family that was stated is kept unless another is better by this. */
    private static final double RULED_OUT = 10;

    private static final double COVERAGE = 1.96;
    private static final double STEP = 1e-6;

    private final Points points;
    private final List<Fit> fits;
    private final double factor;

    private CircuitFit(Points points) {
        this.points = points;
        this.fits = Candidates.fitted(points);
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
        return new CircuitFit(points).chosen(transducer, family);
    }

    private double criterion(Fit fit) {
        return fit.criterion(points, factor) + RESONANCE_EARNS * fit.candidate().resonances();
    }

    private FittedCircuit chosen(@Nullable String transducer, @Nullable Family family) {
        List<Fit> allowed = fits.stream()
                .filter(f -> family == null
                        || f.candidate().family() == family
                        || f.candidate().family() == Family.PLAIN)
                .sorted(Comparator.comparingDouble(this::criterion))
                .toList();
        Fit best = allowed.get(0);
        double limit = criterion(best) + RULED_OUT;
        if (transducer != null) {
            best = allowed.stream()
                    .filter(f -> criterion(f) <= limit && f.candidate().family().suits(transducer))
                    .findFirst()
                    .orElse(best);
        }
        Fit chosen = sorted(best);
        List<Estimate> values = new ArrayList<>();
        for (Value value : chosen.candidate().part().values()) {
            values.add(averaged(chosen, value));
        }
        return new FittedCircuit(
                chosen,
                values,
                chosen.candidate().family() == Family.CAPACITOR_COUPLED ? null : dcResistance(values),
                topInductance(chosen),
                misfit(chosen),
                rivals(allowed, chosen),
                points.hz(0),
                points.hz(points.bands() - 1));
    }

    /** With two resonances, the lower one first. */
    private static Fit sorted(Fit fit) {
        int n = fit.size();
        int first = firstTuned(fit);
        if (fit.candidate().resonances() < 2 || fit.p()[first + 1] <= fit.p()[first + 4]) {
            return fit;
        }
        double[] p = Arrays.copyOf(fit.p(), n);
        for (int i = 0; i < 3; i++) {
            double kept = p[first + i];
            p[first + i] = p[first + 3 + i];
            p[first + 3 + i] = kept;
        }
        return new Fit(fit.candidate(), p, fit.chiSquare());
    }

    private static int firstTuned(Fit fit) {
        List<Value> values = fit.candidate().part().values();
        for (int i = 0; i < values.size(); i++) {
            if (values.get(i).name().startsWith("resonance")) {
                return i;
            }
        }
        return 0;
    }

    /** A value of the circuit, its variance averaged over the circuits of the family that have it too. */
    private Estimate averaged(Fit chosen, Value value) {
        double own = scaled(value, value.of().from(chosen.p(), 0));
        double best = criterion(chosen);
        double sum = 0;
        double variance = 0;
        for (Fit fit : fits) {
            if (fit.candidate().family() != chosen.candidate().family()
                    && fit.candidate().family() != Family.PLAIN) {
                continue;
            }
            Fit other = sorted(fit);
            for (Value same : other.candidate().part().values()) {
                double weight = Math.exp(-Math.max(0, criterion(fit) - best) / 2);
                if (same.name().equals(value.name()) && weight > 1e-6) {
                    double off = scaled(same, same.of().from(other.p(), 0)) - own;
                    sum += weight;
                    variance += weight
                            * (variance(other, p -> scaled(same, same.of().from(p, 0))) + off * off);
                }
            }
        }
        return estimate(value, own, Math.sqrt(variance / sum));
    }

    private static double scaled(Value value, double x) {
        return value.positive() ? Math.log(x) : x;
    }

    private Estimate estimate(Value value, double scaled, double u) {
        double k = COVERAGE * u;
        double low = value.positive() ? Math.exp(scaled - k) : scaled - k;
        double high = value.positive() ? Math.exp(scaled + k) : scaled + k;
        double middle = value.positive() ? Math.exp(scaled) : scaled;
        boolean reached =
                !value.unit().equals("Hz") || (middle >= points.hz(0) && middle <= points.hz(points.bands() - 1));
        return new Estimate(value.name(), value.unit(), middle, low, high, reached && high - low <= Math.abs(middle));
    }

    /** Variance of a function of the parameters, to first order. */
    private double variance(Fit fit, ToDoubleFunction<double[]> function) {
        RealMatrix covariance = fit.covariance(points);
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

    private static Estimate dcResistance(List<Estimate> values) {
        Estimate series = values.get(0);
        return new Estimate(
                "dc_resistance_ohm", series.unit(), series.value(), series.low(), series.high(), series.determined());
    }

    private Estimate topInductance(Fit chosen) {
        double omega = 2 * Math.PI * points.hz(points.bands() - 1);
        Part part = chosen.candidate().part();
        ToDoubleFunction<double[]> henries =
                p -> part.impedance(omega, p, 0, new Complex[p.length]).getImaginary() / omega;
        double value = henries.applyAsDouble(chosen.p());
        Value stated = new Value("top_inductance_henry", "H", false, (p, at) -> value);
        return estimate(stated, value, Math.sqrt(variance(chosen, henries)));
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
