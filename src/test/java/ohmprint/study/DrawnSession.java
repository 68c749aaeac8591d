package ohmprint.study;

import java.util.SplittableRandom;
import ohmprint.estimation.BinObservations;
import ohmprint.estimation.LoadedTakes;

/**
 * One session of a cell: resistors, input, gains and delays drawn from what is stated about them, then
 * {@code D_k = A·g_k·e^(−jωτ_k)/(1 + Z·y_k) + n_k} bin by bin.
 */
final class DrawnSession {
    private DrawnSession() {}

    /** What the takes of session {@code number} hold. */
    static BinObservations of(Cell cell, Spectrum spectrum, int number) {
        SplittableRandom random = new SplittableRandom(cell.seed(number));
        LoadedTakes actual = LoadSet.drawn(cell.stated(), cell.tolerance(), random);
        int takes = actual.size();
        int snapshots = cell.route().snapshots();
        double[] gain = new double[takes];
        double[] delay = new double[takes];
        for (int k = 0; k < takes; k++) {
            gain[k] = Math.exp(cell.drift() * random.nextGaussian());
            delay[k] = cell.route().delaySeconds() * random.nextGaussian();
        }
        BinObservations obs = new BinObservations(takes, spectrum.hz, snapshots);
        if (cell.route().noiseScatter() > 0) {
            obs.noiseHoldsOnAverage();
        }
        double[] yRe = new double[takes];
        double[] yIm = new double[takes];
        double[] hRe = new double[takes];
        double[] hIm = new double[takes];
        for (int i = 0; i < spectrum.size(); i++) {
            actual.admittances(spectrum.hz[i], yRe, yIm);
            double r = spectrum.impedance[i].getReal();
            double x = spectrum.impedance[i].getImaginary();
            for (int k = 0; k < takes; k++) {
                double a = 1 + r * yRe[k] - x * yIm[k];
                double b = r * yIm[k] + x * yRe[k];
                double scale = gain[k] / (a * a + b * b);
                double turn = -2 * Math.PI * spectrum.hz[i] * delay[k];
                double c = Math.cos(turn);
                double s = Math.sin(turn);
                hRe[k] = scale * (a * c + b * s);
                hIm[k] = scale * (a * s - b * c);
                obs.setNoise(i, k, spectrum.noise[i]);
            }
            record(obs, i, cell, spectrum, hRe, hIm, random);
        }
        return obs;
    }

    private static void record(
            BinObservations obs,
            int i,
            Cell cell,
            Spectrum spectrum,
            double[] hRe,
            double[] hIm,
            SplittableRandom random) {
        int takes = hRe.length;
        int snapshots = cell.route().snapshots();
        double scatter = cell.route().noiseScatter();
        double actual = spectrum.noise[i] * Math.exp(scatter * random.nextGaussian() - scatter * scatter / 2);
        double sd = Math.sqrt(actual / 2);
        double amplitude = Math.sqrt(spectrum.power[i]);
        double[] dRe = new double[takes];
        double[] dIm = new double[takes];
        double[] sum = new double[2 * takes * takes];
        for (int n = 0; n < snapshots; n++) {
            for (int k = 0; k < takes; k++) {
                dRe[k] = amplitude * hRe[k] + sd * random.nextGaussian();
                dIm[k] = amplitude * hIm[k] + sd * random.nextGaussian();
            }
            for (int k = 0; k < takes; k++) {
                for (int l = 0; l < takes; l++) {
                    sum[2 * (k * takes + l)] += (dRe[k] * dRe[l] + dIm[k] * dIm[l]) / snapshots;
                    sum[2 * (k * takes + l) + 1] += (dIm[k] * dRe[l] - dRe[k] * dIm[l]) / snapshots;
                }
            }
        }
        for (int k = 0; k < takes; k++) {
            for (int l = 0; l < takes; l++) {
                obs.set(i, k, l, sum[2 * (k * takes + l)], sum[2 * (k * takes + l) + 1]);
            }
        }
    }
}
