package ohmprint.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import ohmprint.circuit.Divider;
import ohmprint.estimation.LoadedTakes;
import ohmprint.study.Cell.Layout;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;

/** The bound of the study against closed forms. */
class CramerRaoTest {
    private static final Tolerance EXACT = new Tolerance("exact", 0, 0, 0);
    private static final Cell NOISE_ONLY = cell(LoadSet.TWO, 0);

    // E|δZ|² ≥ σ²/(|A|²·[Σ|h|²|q|² − |Σ|h|²q|²/Σ|h|²]), h = 1/(1 + Z·y), q = y/(1 + Z·y): closed form; half of it is
    // along Z. Over bins of information F_i at u_i = ln(f_i/f_m), with a slope fitted along, the information is
    // ΣF − (ΣFu)²/ΣFu²: a weighted straight line.
    @Test
    void withoutPriorsItIsTheClosedForm() {
        Spectrum spectrum = new Spectrum(NOISE_ONLY);
        double[] bound = new CramerRao(NOISE_ONLY, spectrum).magnitudeOhm(false);
        LoadedTakes takes = NOISE_ONLY.stated();
        for (int c = 0; c < bound.length; c++) {
            double centre = spectrum.bands.midband(spectrum.chosen[c]);
            double sum = 0;
            double first = 0;
            double second = 0;
            for (int i = spectrum.first[c]; i < spectrum.first[c + 1]; i++) {
                double information = information(takes, spectrum, i);
                double u = Math.log(spectrum.hz[i] / centre);
                sum += information;
                first += information * u;
                second += information * u * u;
            }
            assertThat(bound[c]).isCloseTo(Math.sqrt(0.5 / (sum - first * first / second)), withinPercentage(0.1));
        }
    }

    private static double information(LoadedTakes takes, Spectrum spectrum, int i) {
        double hh = 0;
        double hhqq = 0;
        Complex hhq = Complex.ZERO;
        for (int k = 0; k < takes.size(); k++) {
            Complex y = Divider.admittance(takes.loads().get(k), takes.input(), spectrum.hz[i]);
            Complex h = spectrum.impedance[i].multiply(y).add(1).reciprocal();
            Complex q = y.multiply(h);
            double weight = h.abs() * h.abs();
            hh += weight;
            hhqq += weight * q.abs() * q.abs();
            hhq = hhq.add(q.multiply(weight));
        }
        return spectrum.power[i] / spectrum.noise[i] * (hhqq - hhq.abs() * hhq.abs() / hh);
    }

    // With two loads a gain cannot be told from Z: its variance adds, dZ = −(Z + R_a)(Z + R_b)/(R_b − R_a)·d ln g for
    // loads that hold the input: closed form.
    @Test
    void withTwoLoadsThePriorOfTheGainsAddsUp() {
        double u = 0.01;
        Cell drifting = cell(LoadSet.TWO, u);
        double[] without = new CramerRao(NOISE_ONLY, new Spectrum(NOISE_ONLY)).magnitudeOhm(true);
        Spectrum spectrum = new Spectrum(drifting);
        double[] with = new CramerRao(drifting, spectrum).magnitudeOhm(true);
        for (int c = 0; c < with.length; c++) {
            double hz = spectrum.bands.midband(spectrum.chosen[c]);
            Complex z = drifting.circuit().impedance(hz);
            Complex[] r = drifting.stated().loads().stream()
                    .map(load -> Divider.admittance(load, drifting.stated().input(), hz)
                            .reciprocal())
                    .toArray(Complex[]::new);
            Complex move = z.add(r[0])
                    .multiply(z.add(r[1]))
                    .divide(r[1].subtract(r[0]))
                    .multiply(u);
            double along = move.multiply(z.conjugate()).getReal() / z.abs();
            assertThat(with[c]).isCloseTo(Math.hypot(without[c], Math.sqrt(2) * along), withinPercentage(0.5));
        }
    }

    @Test
    void whatBandsTellTogetherNeverRaisesTheBound() {
        Cell cell = cell(LoadSet.FOUR, StudyPlan.UNSTEADY);
        CramerRao bound = new CramerRao(cell, new Spectrum(cell));
        double[] together = bound.magnitudeOhm(true);
        double[] alone = bound.magnitudeOhm(false);
        for (int c = 0; c < together.length; c++) {
            assertThat(together[c]).isLessThanOrEqualTo(alone[c] * (1 + 1e-9));
        }
        assertThat(Arrays.stream(together).sum())
                .isLessThan(0.9 * Arrays.stream(alone).sum());
    }

    private static Cell cell(LoadSet loads, double drift) {
        return new Cell(StudyCircuit.COIL_200, loads, EXACT, drift, 50, StudyRoute.REFERENCE, Layout.SPREAD, 1);
    }
}
