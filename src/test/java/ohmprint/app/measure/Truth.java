package ohmprint.app.measure;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleFunction;
import java.util.stream.DoubleStream;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ImpedanceCurve;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.stat.descriptive.rank.Percentile;

/** What a source really is, and how far a curve is from it. */
final class Truth {
    private static final double SAME_FREQUENCY = 2e-4;

    private final DoubleFunction<Complex> impedance;

    private Truth(DoubleFunction<Complex> impedance) {
        this.impedance = impedance;
    }

    /** The tables of a fixture, in twelfths and thirds of an octave, as ngspice computed them (AC analysis). */
    static Truth of(String fixture) throws IOException {
        List<double[]> rows = new ArrayList<>();
        for (String name : List.of("truth.csv", "truth-thirds.csv")) {
            Path file = TakeFolder.FIXTURES.resolve(fixture).resolve(name);
            Files.readAllLines(file).stream()
                    .skip(1)
                    .map(line -> DoubleStream.of(java.util.Arrays.stream(line.split(","))
                                    .mapToDouble(Double::parseDouble)
                                    .toArray())
                            .toArray())
                    .forEach(rows::add);
        }
        return new Truth(hz -> rows.stream()
                .filter(r -> Math.abs(r[0] / hz - 1) < SAME_FREQUENCY)
                .findFirst()
                .map(r -> new Complex(r[1], r[2]))
                .orElseThrow(() -> new IllegalArgumentException("no truth at " + hz + " Hz")));
    }

    /** A formula. */
    static Truth of(DoubleFunction<Complex> impedance) {
        return new Truth(impedance);
    }

    /** The same source with an admittance in siemens beside it. */
    Truth beside(DoubleFunction<Complex> admittance) {
        return new Truth(hz -> at(hz).reciprocal().add(admittance.apply(hz)).reciprocal());
    }

    Complex at(double hz) {
        return impedance.apply(hz);
    }

    /** Compares the bands of a curve within a range of frequencies. */
    Score score(ImpedanceCurve curve, double fromHz, double toHz) {
        List<BandValue> bands = curve.values().stream()
                .filter(v -> v.frequencyHz() >= fromHz && v.frequencyHz() <= toHz)
                .toList();
        return new Score(
                this,
                bands,
                bands.stream().filter(v -> v.status() == BandStatus.MEASURED).toList());
    }

    /**
     * How far a curve is from the truth.
     *
     * @param truth the truth
     * @param bands all bands compared
     * @param measured those with a value
     */
    record Score(Truth truth, List<BandValue> bands, List<BandValue> measured) {
        /** Share of the bands that hold a value, per cent. */
        double measuredPercent() {
            return 100.0 * measured.size() / bands.size();
        }

        /** Percentile of the relative error of |Z|, per cent. */
        double magnitudePercent(double percentile) {
            return percentile(measured.stream().mapToDouble(this::magnitudeErrorPercent), percentile);
        }

        /** Percentile of the error of the phase, degrees. */
        double phaseDegrees(double percentile) {
            return percentile(
                    measured.stream()
                            .mapToDouble(v -> Math.abs(Math.IEEEremainder(
                                    v.phaseDeg()
                                            - Math.toDegrees(
                                                    truth.at(v.frequencyHz()).getArgument()),
                                    360))),
                    percentile);
        }

        /** Share of the values whose stated 95 % interval of |Z| holds the truth, per cent. */
        double coveragePercent() {
            return percentOf(
                    v -> Math.abs(v.magnitudeOhm() - truth.at(v.frequencyHz()).abs()) <= v.magnitudeU95Ohm());
        }

        /** The same for the phase. */
        double phaseCoveragePercent() {
            return percentOf(v -> Math.abs(Math.IEEEremainder(
                            v.phaseDeg()
                                    - Math.toDegrees(truth.at(v.frequencyHz()).getArgument()),
                            360))
                    <= v.phaseU95Deg());
        }

        /** Median of the stated 95 % uncertainty of |Z|, per cent of the truth. */
        double statedPercent() {
            return percentile(
                    measured.stream()
                            .mapToDouble(v -> 100
                                    * v.magnitudeU95Ohm()
                                    / truth.at(v.frequencyHz()).abs()),
                    50);
        }

        private double magnitudeErrorPercent(BandValue v) {
            return 100 * Math.abs(v.magnitudeOhm() / truth.at(v.frequencyHz()).abs() - 1);
        }

        private double percentOf(java.util.function.Predicate<BandValue> held) {
            return 100.0 * measured.stream().filter(held).count() / measured.size();
        }

        private static double percentile(DoubleStream values, double percentile) {
            double[] sorted = values.toArray();
            return sorted.length == 0 ? Double.NaN : new Percentile(percentile).evaluate(sorted);
        }
    }
}
