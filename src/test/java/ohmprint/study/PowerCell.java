package ohmprint.study;

import java.util.Locale;
import java.util.SplittableRandom;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.LoadedCurve;
import ohmprint.circuit.SourceCurve;
import ohmprint.estimation.BinObservations;
import ohmprint.estimation.LoadedTakes;
import ohmprint.estimation.PowerSolver;
import ohmprint.estimation.Priors;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PredictedValue;
import org.apache.commons.math3.complex.Complex;

/**
 * Sessions of the power route, and the loss into a load by their curves.
 *
 * <p>In each bin the power of a take is that of a mean of {@code pieces} exponential ones, scaled by the divider and by a gain that
 * is drawn once for each take. The impedance is that of the midband in a whole band.
 *
 * @param circuit what is measured
 * @param loads through which loads
 * @param drift standard deviation of ln g of each take, drawn and stated alike
 * @param pieces independent powers in the mean of a bin
 * @param lossOhm load whose loss is predicted
 * @param sessions how many sessions are drawn
 */
record PowerCell(StudyCircuit circuit, LoadSet loads, double drift, int pieces, double lossOhm, int sessions)
        implements StudyCell.Drawn<FollowUpResult> {
    private static final FrequencyBands BANDS = FrequencyBands.within(3, 95, 8500);
    private static final int BINS = 60;
    private static final double NOISE = 1e-4;

    @Override
    public String name() {
        return String.format(
                Locale.ROOT,
                "%s, %s loads, power route, drift %.4f dB, bins of %d, loss into %.0f Ω",
                circuit.words(),
                loads.words(),
                20 / Math.log(10) * drift,
                pieces,
                lossOhm);
    }

    @Override
    public long costOfOne() {
        return 90;
    }

    @Override
    public FollowUpResult run(Runnable done) {
        FollowUpResult.Tally tally = new FollowUpResult.Tally();
        LoadedTakes stated = loads.stated(circuit, Tolerance.MEASURED);
        InputImpedance load = InputImpedance.ofOhms(lossOhm, 0);
        for (int s = 0; s < sessions; s++) {
            SplittableRandom random = new SplittableRandom(seed(s));
            BinObservations obs = drawn(LoadSet.drawn(stated, Tolerance.MEASURED, random), random);
            ImpedanceCurve curve = new ImpedanceCurve(
                    BANDS,
                    new PowerSolver(BANDS, new Priors(drift, 0))
                            .solve(obs, stated)
                            .values(),
                    false);
            for (int b = 0; b < BANDS.size(); b++) {
                BandValue v = curve.values().get(b);
                double truth = circuit.impedance(BANDS.midband(b)).abs();
                if (v.isMeasured()) {
                    tally.band(v.magnitudeOhm() / truth - 1, v.magnitudeU95Ohm() / truth);
                }
            }
            tally.session();
            for (PredictedValue p :
                    LoadedCurve.of(SourceCurve.of(curve, 90, 9000), load).losses()) {
                if (p.isValue()) {
                    Complex z = circuit.impedance(p.hz());
                    tally.loss(
                            p.value() - 20 * Math.log10(z.divide(lossOhm).add(1).abs()), p.u95());
                }
            }
            done.run();
        }
        return tally.result(this);
    }

    private BinObservations drawn(LoadedTakes actual, SplittableRandom random) {
        int takes = actual.size();
        double[] gain = new double[takes];
        for (int k = 0; k < takes; k++) {
            gain[k] = Math.exp(2 * drift * random.nextGaussian());
        }
        double[] hz = new double[BANDS.size() * BINS];
        for (int i = 0; i < hz.length; i++) {
            int b = i / BINS;
            double width = Math.log(BANDS.upperEdge(b) / BANDS.lowerEdge(b));
            hz[i] = BANDS.lowerEdge(b) * Math.exp(width * (i % BINS + 0.5) / BINS);
        }
        BinObservations obs = new BinObservations(takes, hz, 1);
        double[] yRe = new double[takes];
        double[] yIm = new double[takes];
        for (int i = 0; i < hz.length; i++) {
            double mid = BANDS.midband(i / BINS);
            Complex z = circuit.impedance(mid);
            actual.admittances(mid, yRe, yIm);
            for (int k = 0; k < takes; k++) {
                double power = 0;
                for (int p = 0; p < pieces; p++) {
                    power -= Math.log(1 - random.nextDouble()) / pieces;
                }
                double h = z.multiply(new Complex(yRe[k], yIm[k])).add(1).abs();
                obs.set(i, k, k, power * gain[k] / (h * h) + NOISE, 0);
                obs.setNoise(i, k, NOISE);
            }
        }
        return obs;
    }
}
