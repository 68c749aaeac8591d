package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import ohmprint.circuit.Divider;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.estimation.PowerSolver.PowerInterval;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Curves from drawn powers, against the impedance that they were drawn with. */
class PowerSolverTest {
    private static final double DRIFT = 0.01;
    private static final int BINS = 400;
    /** Of the power of a bin, as a mean of 25 has it: of a band 0.2/√400 = 0.01, half of what the drift does. */
    private static final double SCATTER = 0.2;

    private static final FrequencyBands BANDS = FrequencyBands.within(3, 90, 900);
    private static final List<Load> LOADS =
            List.of(Load.ofOhms(100, 0), Load.ofOhms(240, 0), Load.ofOhms(680, 0), Load.open());

    /**
     * Four loads, gains drawn as they are believed, and each session's levels are off alike in all bands: 95 % of the intervals
     * hold |Z|, and hardly a session misses in most of its bands.
     */
    @Test
    @Tag("statistics")
    void intervalsHoldTheTruthThoughDriftIsOneDrawForAllBands() {
        int sessions = 60;
        double inside = 0;
        int lost = 0;
        for (int s = 0; s < sessions; s++) {
            double hits = hits(curve(CircuitBins.seeded(600 + s), DRIFT));
            inside += hits / sessions;
            lost += hits < 0.5 ? 1 : 0;
        }
        // Sessions are nearly all or nothing: 95 % ± 2.5·√(0.95·0.05/60) is 88 to 100 %.
        assertThat(inside).isBetween(0.88, 0.998);
        assertThat(lost).isLessThan(6);
    }

    /** Gains that happen to agree say nothing of the next bench: what is stated for them is what is believed of gains. */
    @Test
    void aSessionWithoutDriftStatesTheDriftThatIsBelieved() {
        double drift = 0;
        int bands = 0;
        for (BandValue v : curve(CircuitBins.seeded(5), 0)) {
            if (v.isMeasured() && v.budget() != null) {
                drift += v.budget().drift() / v.magnitudeOhm();
                bands++;
            }
        }
        // Four levels, each known to 2·0.01, tell |Z| to 3.7 to 4.7 % in these bands by the inverse of JᵀJ, J the
        // derivatives of
        // the levels by level, R and |Z| (computed with numpy).
        assertThat(bands).isEqualTo(BANDS.size());
        assertThat(drift / bands).isBetween(0.035, 0.047);
    }

    private static double hits(List<BandValue> values) {
        double hits = 0;
        for (int b = 0; b < values.size(); b++) {
            BandValue v = values.get(b);
            double truth = source(BANDS.midband(b)).abs();
            hits += v.isMeasured() && Math.abs(v.magnitudeOhm() - truth) <= v.magnitudeU95Ohm() ? 1 : 0;
        }
        return hits / values.size();
    }

    private static Complex source(double hz) {
        return new Complex(170, 2 * Math.PI * hz * 0.02);
    }

    private static List<BandValue> curve(Random random, double drift) {
        LoadedTakes takes = new LoadedTakes(LOADS, InputImpedance.ofOhms(3000, 0));
        double[] gain = new double[LOADS.size()];
        for (int k = 0; k < gain.length; k++) {
            gain[k] = Math.exp(2 * drift * random.nextGaussian());
        }
        double[] hz = new double[BANDS.size() * BINS];
        for (int b = 0; b < BANDS.size(); b++) {
            double[] own = CircuitBins.frequencies(1.01 * BANDS.lowerEdge(b), 0.99 * BANDS.upperEdge(b), BINS);
            System.arraycopy(own, 0, hz, b * BINS, BINS);
        }
        BinObservations obs = new BinObservations(LOADS.size(), hz, 1);
        for (int i = 0; i < hz.length; i++) {
            // Z as it is at the midband, so that the curve within a band is no error.
            double mid = BANDS.midband(i / BINS);
            for (int k = 0; k < LOADS.size(); k++) {
                Complex y = Divider.admittance(LOADS.get(k), takes.input(), mid);
                double h = Divider.response(source(mid), y).abs();
                obs.set(i, k, k, Math.max(0.1, 1 + SCATTER * random.nextGaussian()) * gain[k] * h * h, 0);
                obs.setNoise(i, k, 1e-9);
            }
        }
        return new PowerSolver(BANDS, new Priors(drift == 0 ? DRIFT : drift, 0))
                .solve(obs, takes)
                .values();
    }

    /**
     * Two loads on an input of 400 Ω ± 20 %: the bounds hold |Z| for an input anywhere within that, so they are those of the
     * lowest and of the highest input, each within 95 % of its tolerance.
     */
    @Test
    void boundsOfTwoLoadsReachAsFarAsTheInputMayBeOff() {
        FrequencyBands one = FrequencyBands.within(1, 900, 1100);
        BandValue exact = bounds(one, 0);
        BandValue vague = bounds(one, 20);
        double[] moved = new double[2];
        for (double off : new double[] {-0.2, 0.2}) {
            // u of a rectangular tolerance is a/√3; 1.96 of it.
            double y = (1 / 400.0) * (1 + 1.96 * off / Math.sqrt(3));
            PowerInterval at = PowerInterval.of(ratio(1 / 400.0), 1 / 150.0 + y, 1 / 1500.0 + y);
            moved[0] = Math.max(moved[0], centre().lowOhm() - at.lowOhm());
            moved[1] = Math.max(moved[1], at.highOhm() - centre().highOhm());
        }
        double below = centre().lowOhm() - exact.magnitudeLowOhm();
        double above = exact.magnitudeHighOhm() - centre().highOhm();
        assertThat(vague.magnitudeLowOhm()).isCloseTo(centre().lowOhm() - Math.hypot(below, moved[0]), within(0.2));
        assertThat(vague.magnitudeHighOhm()).isCloseTo(centre().highOhm() + Math.hypot(above, moved[1]), within(0.7));
        assertThat(vague.magnitudeHighOhm() - exact.magnitudeHighOhm()).isGreaterThan(1);
    }

    private static PowerInterval centre() {
        return PowerInterval.of(ratio(1 / 400.0), 1 / 150.0 + 1 / 400.0, 1 / 1500.0 + 1 / 400.0);
    }

    private static double ratio(double yInput) {
        double a = 1 + 200 * (1 / 150.0 + yInput);
        double b = 1 + 200 * (1 / 1500.0 + yInput);
        return b * b / (a * a);
    }

    private static BandValue bounds(FrequencyBands one, double inputPercent) {
        LoadedTakes takes = new LoadedTakes(
                List.of(Load.ofOhms(150, 0), Load.ofOhms(1500, 0)), InputImpedance.ofOhms(400, inputPercent));
        double[] hz = CircuitBins.frequencies(800, 1200, BINS);
        BinObservations obs = new BinObservations(2, hz, 1);
        for (int i = 0; i < hz.length; i++) {
            obs.set(i, 0, 0, ratio(1 / 400.0), 0);
            obs.set(i, 1, 1, 1, 0);
            obs.setNoise(i, 0, 1e-9);
            obs.setNoise(i, 1, 1e-9);
        }
        return new PowerSolver(one, new Priors(0.001, 0))
                .solve(obs, takes)
                .values()
                .get(0);
    }
}
