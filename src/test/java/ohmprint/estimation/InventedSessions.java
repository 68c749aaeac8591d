package ohmprint.estimation;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.SourceModel;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.SharedErrors;
import org.apache.commons.math3.complex.Complex;

/**
 * Many sessions of one kind, in each of which gains, delays, loads and input depart from what was entered as the priors say,
 * solved by two solvers from the same takes.
 *
 * <p>All bands of a session share these departures, so that a session counts once: its error is the mean square over the
 * bands of δ|Z|/|Z|, its hits are those of one band, drawn at random.
 */
final class InventedSessions {
    private static final int BINS_PER_BAND = 6;
    private static final double DELAY = 2e-9;

    /** Error and coverage of one solver. */
    static final class Tally {
        private double square;
        private int sessions;
        private int magnitude;
        private int phase;

        /** Root mean square of δ|Z|/|Z|. */
        double error() {
            return Math.sqrt(square / sessions);
        }

        /** Share of the sessions in which |Z| lies in its 95 % interval. */
        double magnitudeCoverage() {
            return (double) magnitude / sessions;
        }

        /** Share of the sessions in which the phase does. */
        double phaseCoverage() {
            return (double) phase / sessions;
        }

        private void count(CurveEstimate estimate, SourceModel source, int band) {
            double sum = 0;
            int n = 0;
            for (BandValue v : estimate.values()) {
                if (v.isMeasured()) {
                    double truth = source.impedance(v.frequencyHz()).abs();
                    sum += Math.pow(v.magnitudeOhm() / truth - 1, 2);
                    n++;
                }
            }
            BandValue v = estimate.values().get(band);
            if (!v.isMeasured()) {
                return;
            }
            square += sum / n;
            Complex z = source.impedance(v.frequencyHz());
            sessions++;
            magnitude += Math.abs(v.magnitudeOhm() - z.abs()) <= v.magnitudeU95Ohm() ? 1 : 0;
            double off = Math.IEEEremainder(v.phaseRad() - z.getArgument(), 2 * Math.PI);
            phase += Math.abs(off) <= v.phaseU95Rad() ? 1 : 0;
        }
    }

    /** What two solvers make of the same sessions. */
    record Comparison(Tally carried, Tally fitted) {
        /** Error of the fit to all bands over that of each band for itself. */
        double ratio() {
            return fitted.error() / carried.error();
        }
    }

    private final SourceModel source;
    private final List<Load> stated;
    private final double drift;
    private final double inputPercent;
    private final double snrDb;
    private final FrequencyBands bands;

    InventedSessions(SourceModel source, List<Load> stated, double drift, double inputPercent, double snrDb) {
        this(source, stated, drift, inputPercent, snrDb, FrequencyBands.within(12, 30, 18_000));
    }

    InventedSessions(
            SourceModel source,
            List<Load> stated,
            double drift,
            double inputPercent,
            double snrDb,
            FrequencyBands bands) {
        this.source = source;
        this.stated = stated;
        this.drift = drift;
        this.inputPercent = inputPercent;
        this.snrDb = snrDb;
        this.bands = bands;
    }

    /** Loads with a tolerance in per cent, as {@code 100:330:open}. */
    static List<Load> loads(String list, double tolerancePercent) {
        return Arrays.stream(list.split(":"))
                .map(r -> r.equals("open") ? Load.open() : Load.ofOhms(Double.parseDouble(r), tolerancePercent))
                .toList();
    }

    LoadedTakes takes() {
        return new LoadedTakes(stated, InputImpedance.ofOhms(3000, inputPercent, 470, inputPercent));
    }

    Priors priors() {
        return new Priors(drift, DELAY);
    }

    FrequencyBands bands() {
        return bands;
    }

    private double[] bins() {
        double from = bands.lowerEdge(0);
        double to = bands.upperEdge(bands.size() - 1);
        return CircuitBins.frequencies(from, to, BINS_PER_BAND * bands.size());
    }

    /** Solves sessions with the seeds from {@code first} on. */
    Comparison run(long first, int sessions) {
        CoherentSolver carried = new CoherentSolver(bands, priors(), SharedErrors.CARRIED);
        CoherentSolver fitted = new CoherentSolver(bands, priors(), SharedErrors.FITTED);
        Comparison out = new Comparison(new Tally(), new Tally());
        double[] hz = bins();
        IntStream.range(0, sessions)
                .parallel()
                .mapToObj(s -> {
                    Random random = CircuitBins.seeded(first + s);
                    BinObservations obs = observed(random, hz);
                    int band = random.nextInt(bands.size());
                    return new Solved(carried.solve(obs, takes()), fitted.solve(obs, takes()), band);
                })
                .toList()
                .forEach(s -> {
                    out.carried.count(s.carried, source, s.band);
                    out.fitted.count(s.fitted, source, s.band);
                });
        return out;
    }

    private record Solved(CurveEstimate carried, CurveEstimate fitted, int band) {}

    private BinObservations observed(Random random, double[] hz) {
        List<Load> distinct = stated.stream().distinct().toList();
        double[] factor = new double[distinct.size()];
        for (int i = 0; i < factor.length; i++) {
            double half = Math.sqrt(3) * distinct.get(i).relativeStandardUncertainty();
            factor[i] = 1 + half * (2 * random.nextDouble() - 1);
        }
        List<Load> actual = stated.stream()
                .map(l -> l.isOpen() ? l : Load.ofOhms(l.ohm() * factor[distinct.indexOf(l)], 0))
                .toList();
        InputImpedance input = InputImpedance.ofOhms(
                3000 * (1 + inputPercent / 100 * (2 * random.nextDouble() - 1)),
                0,
                470 * (1 + inputPercent / 100 * (2 * random.nextDouble() - 1)),
                0);
        CircuitBins bins = CircuitBins.of(source, new LoadedTakes(actual, input), Math.pow(10, -snrDb / 10));
        for (int k = 0; k < stated.size(); k++) {
            bins = bins.withGain(k, Math.exp(drift * random.nextGaussian()))
                    .withDelay(k, DELAY * random.nextGaussian());
        }
        return bins.noisy(random, hz);
    }
}
