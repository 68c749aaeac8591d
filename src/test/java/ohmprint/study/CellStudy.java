package ohmprint.study;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import ohmprint.estimation.BinObservations;
import ohmprint.estimation.CoherentSolver;
import ohmprint.estimation.CurveEstimate;
import ohmprint.estimation.LoadedTakes;
import ohmprint.estimation.UncertaintyPredictor;
import ohmprint.estimation.UncertaintyPredictor.ExpectedSession;
import ohmprint.impedance.BandValue;
import ohmprint.study.Cell.Layout;
import org.apache.commons.math3.complex.Complex;

/** Runs the sessions of one cell through every kind of fit and counts. */
final class CellStudy {
    private static final double NORMAL = 1.959964;

    private final Cell cell;
    private final Spectrum spectrum;
    private final List<Complex> truths;
    private final double[] together;
    private final double[] alone;

    CellStudy(Cell cell) {
        this.cell = cell;
        spectrum = new Spectrum(cell);
        truths = spectrum.truths(cell);
        CramerRao bound = new CramerRao(cell, spectrum);
        together = bound.magnitudeOhm(true);
        alone = bound.magnitudeOhm(false);
    }

    /** Standard uncertainties of |Z| in ohms that the planner foretells; only where the bins lie as it counts them. */
    private double[] predicted(Fit fit) {
        double[] none = new double[spectrum.chosen.length];
        Arrays.fill(none, Double.NaN);
        if (cell.layout() != Layout.EVEN) {
            return none;
        }
        ExpectedSession expected = new ExpectedSession(
                spectrum.bands, cell.circuit(), Math.pow(10, cell.snrDb() / 10), Spectrum.EVEN_SECONDS);
        return new UncertaintyPredictor(expected, cell.priors(), fit.shared())
                .predict(cell.stated()).bands().stream()
                        .mapToDouble(b -> b.covariance().modulusUncertainty(b.resistanceOhm(), b.reactanceOhm()))
                        .toArray();
    }

    /**
     * Runs its sessions.
     *
     * @param done told after each session
     */
    Map<Fit, CellResult> run(List<Fit> fits, Runnable done) {
        Map<Fit, Tally> tallies = new EnumMap<>(Fit.class);
        fits.forEach(fit -> tallies.put(fit, new Tally()));
        LoadedTakes stated = cell.stated();
        for (int s = 0; s < cell.sessions(); s++) {
            BinObservations obs = DrawnSession.of(cell, spectrum, s);
            tallies.forEach((fit, tally) -> {
                CoherentSolver solver = new CoherentSolver(spectrum.bands, cell.priors(), fit.shared());
                // The separate fit is only compared with: judging it would cost a joint fit more.
                tally.add(fit == Fit.SEPARATE ? solver.solveAsEntered(obs, stated) : solver.solve(obs, stated));
            });
            done.run();
        }
        Map<Fit, CellResult> out = new EnumMap<>(Fit.class);
        tallies.forEach((fit, tally) -> out.put(fit, tally.result(fit)));
        return out;
    }

    /** Sums over sessions and bands. */
    private final class Tally {
        private final int bands = spectrum.chosen.length;
        private final double[] sum = new double[bands];
        private final double[] square = new double[bands];
        private final double[] stated = new double[bands];
        private final int[] count = new int[bands];
        private long inMagnitude;
        private long inPhase;
        private int sessions;

        void add(CurveEstimate estimate) {
            sessions++;
            for (int c = 0; c < bands; c++) {
                BandValue v = estimate.values().get(spectrum.chosen[c]);
                if (!v.isMeasured()) {
                    continue;
                }
                Complex truth = truths.get(c);
                double error = v.magnitudeOhm() - truth.abs();
                double turn = Math.IEEEremainder(v.phaseRad() - truth.getArgument(), 2 * Math.PI);
                count[c]++;
                sum[c] += error;
                square[c] += error * error;
                stated[c] += Math.pow(v.magnitudeU95Ohm() / NORMAL, 2);
                inMagnitude += Math.abs(error) <= v.magnitudeU95Ohm() ? 1 : 0;
                inPhase += Math.abs(turn) <= v.phaseU95Rad() ? 1 : 0;
            }
        }

        CellResult result(Fit fit) {
            long values = Arrays.stream(count).sum();
            double[] size = truths.stream().mapToDouble(Complex::abs).toArray();
            double mean = 0;
            double worst = 0;
            for (int c = 0; c < bands; c++) {
                mean += sum[c] / size[c];
                worst = Math.max(worst, Math.abs(sum[c] / count[c]) / Math.sqrt(square[c] / count[c]));
            }
            return new CellResult(
                    cell,
                    fit,
                    values,
                    (long) sessions * bands - values,
                    (double) inMagnitude / values,
                    (double) inPhase / values,
                    100 * over(square, size),
                    over(square, together),
                    over(square, alone),
                    over(square, predicted(fit)),
                    100 * mean / values,
                    worst,
                    over(stated, size) / over(square, size));
        }

        /** Root of the mean over all values of a sum of squares in units of each band. */
        private double over(double[] squares, double[] unit) {
            double total = 0;
            for (int c = 0; c < bands; c++) {
                total += squares[c] / (unit[c] * unit[c]);
            }
            return Math.sqrt(total / Arrays.stream(count).sum());
        }
    }
}
