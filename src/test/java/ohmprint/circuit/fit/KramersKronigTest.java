package ohmprint.circuit.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.Random;
import java.util.function.DoubleFunction;
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.CapacitorCoupled;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;
import ohmprint.circuit.SourceModel.RibbonTransformer;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CauseOrigin;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SharedCause;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.distribution.UniformRealDistribution;
import org.apache.commons.math3.stat.inference.KolmogorovSmirnovTest;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What is an impedance passes, what is none does not, and the published chain leaves over what another program says. */
@Tag("statistics")
class KramersKronigTest {
    private static final FrequencyBands TWELFTHS = FrequencyBands.within(12, 20, 20_000);
    /** The other program solves normal equations, which costs half the digits. */
    private static final double DIGITS = 2e-8;

    private static final SourceModel COIL =
            new MovingCoil(200, new LossyInductor(0.05, 0.7), Resonance.ofPeak(300, 90, 3));
    private static final Complex ONE = Complex.ONE;

    private static double[][] rows(String name) throws IOException {
        return Files.readAllLines(Path.of("fixtures/kramers-kronig", name)).stream()
                .filter(line -> !line.startsWith("#"))
                .map(line -> Arrays.stream(line.split(","))
                        .mapToDouble(Double::parseDouble)
                        .toArray())
                .toArray(double[][]::new);
    }

    /** Source: fixtures/kramers-kronig/README.md. */
    @ParameterizedTest
    @ValueSource(ints = {7, 12, 20})
    void thePublishedChainLeavesOverWhatAnOpenLibrarySays(int elements) throws IOException {
        double[][] cell = rows("cell.csv");
        double[] hz = Arrays.stream(cell).mapToDouble(row -> row[0]).toArray();
        Complex[] z =
                Arrays.stream(cell).map(row -> new Complex(row[1], row[2])).toArray(Complex[]::new);
        double[] u = Arrays.stream(z).mapToDouble(Complex::abs).toArray();
        double[] seconds = new double[elements];
        double shortest = 1 / (2 * Math.PI * hz[hz.length - 1]);
        for (int i = 0; i < elements; i++) {
            seconds[i] = shortest * Math.pow(hz[hz.length - 1] / hz[0], i / (elements - 1.0));
        }

        Complex[] left = KramersKronig.leftByChain(hz, z, u, seconds);

        double[][] expected = rows("fit-" + elements + ".csv");
        assertThat(expected).hasSameDimensionsAs(new double[hz.length][5]);
        for (int b = 0; b < hz.length; b++) {
            assertThat(left[b].getReal() / u[b]).isCloseTo(expected[b][3], within(DIGITS));
            assertThat(left[b].getImaginary() / u[b]).isCloseTo(expected[b][4], within(DIGITS));
        }
    }

    /** A microphone of up to three resonances of Q up to 12: a coil, a coil with skin effect, or a ribbon whose transformer leaks. */
    private static SourceModel drawn(Random r) {
        double ohm = 50 + 550 * r.nextDouble();
        List<SourceModel> parts = new ArrayList<>();
        int resonances = r.nextInt(4);
        for (int i = 0; i < resonances; i++) {
            double peak = ohm * Math.exp(3.2 * r.nextDouble() - 1.6);
            parts.add(Resonance.ofPeak(peak, 30 * Math.pow(500, r.nextDouble()), Math.pow(12, r.nextDouble())));
        }
        parts.add(
                switch (r.nextInt(4)) {
                    case 0 -> new MovingCoil(ohm, LossyInductor.ofHenries(1e-3 * r.nextDouble()), null);
                    case 1 -> new MovingCoil(ohm, new LossyInductor(1e-3 * ohm * r.nextDouble(), 0.5), null);
                    case 2 -> new CapacitorCoupled(ohm, 1e-5 * (1 + 9 * r.nextDouble()));
                    default ->
                        new RibbonTransformer(
                                1e-3,
                                1.369,
                                0.995 + 0.0049 * r.nextDouble(),
                                0.2,
                                20,
                                0,
                                1e-9 * r.nextDouble(),
                                Resonance.ofPeak(
                                        0.01 + 0.5 * r.nextDouble(), 40 + 60 * r.nextDouble(), 1 + 5 * r.nextDouble()));
                });
        return hz -> parts.stream().map(p -> p.impedance(hz)).reduce(Complex.ZERO, Complex::add);
    }

    /** The test of a source whose values are multiplied by a fault and have noise of a size relative to |Z|. */
    private static KramersKronig.Result tested(
            SourceModel source, double relative, DoubleFunction<Complex> fault, Random r) {
        double[] hz = TWELFTHS.midbands();
        Complex[] z = new Complex[hz.length];
        double[] u = new double[hz.length];
        for (int b = 0; b < hz.length; b++) {
            Complex wrong = source.impedance(hz[b]).multiply(fault.apply(hz[b]));
            u[b] = relative * wrong.abs();
            z[b] = wrong.add(new Complex(u[b] * r.nextGaussian(), u[b] * r.nextGaussian()));
        }
        return KramersKronig.test(hz, z, u);
    }

    @ParameterizedTest
    @CsvSource({"0.0003, 50", "0.003, 200", "0.03, 50"})
    void trueImpedancesPassAndTheirProbabilitiesAreUniform(double relative, int draws) {
        double[] p = new double[draws];
        int refused = 0;
        for (int k = 0; k < draws; k++) {
            Random r = new Random(31L * k + 7);
            KramersKronig.Result result = tested(drawn(r), relative, hz -> ONE, r);
            p[k] = result.left().pValue();
            refused += result.isImpedance() ? 0 : 1;
        }

        assertThat(refused).isLessThanOrEqualTo(draws / 50);
        assertThat(new KolmogorovSmirnovTest().kolmogorovSmirnovTest(new UniformRealDistribution(0, 1), p))
                .isGreaterThan(1e-3);
    }

    @ParameterizedTest
    @ValueSource(doubles = {30, 73, 251, 1000, 3300, 15000})
    void aSharpResonancePassesAnywhere(double resonanceHz) {
        for (double height : new double[] {0.1, 1, 10}) {
            SourceModel sharp =
                    new MovingCoil(200, LossyInductor.ofHenries(1e-3), Resonance.ofPeak(200 * height, resonanceHz, 12));
            KramersKronig.Result result = tested(sharp, 1e-3, hz -> ONE, new Random(3));

            assertThat(result.isImpedance()).as("%s", result.left()).isTrue();
            assertThat(result.resonances()).isPositive();
        }
    }

    /** Sizes in standard uncertainties of a band, 0.3 % of |Z|: each is found in nine of ten draws and more. */
    @ParameterizedTest
    @CsvSource({"step, 7", "ripple of an octave, 2.5", "ripple of a third, 2"})
    void whatIsNoImpedanceIsFound(String fault, double size) {
        double relative = 0.003;
        int found = 0;
        for (int k = 0; k < 20; k++) {
            Random r = new Random(77L * k + 5);
            found +=
                    tested(drawn(r), relative, fault(fault, size * relative), r).isImpedance() ? 0 : 1;
        }

        assertThat(found).isGreaterThanOrEqualTo(18);
    }

    private static DoubleFunction<Complex> fault(String name, double size) {
        return switch (name) {
            case "step" -> hz -> new Complex(hz > 1000 ? 1 + size : 1);
            case "ripple of an octave" ->
                hz -> new Complex(1 + size * Math.cos(2 * Math.PI * Math.log(hz) / Math.log(2)));
            default -> hz -> new Complex(1 + size * Math.cos(6 * Math.PI * Math.log(hz) / Math.log(2)));
        };
    }

    /** A delay is a matter of cause and effect; what comes before its cause is found once ωτ is of order 1 in the curve. */
    @ParameterizedTest
    @CsvSource({"-100, true", "5, true", "100, false"})
    void aClockThatIsEarlyIsFoundWhenItIsEarlyByMuch(double microseconds, boolean passes) {
        DoubleFunction<Complex> early = hz -> new Complex(0, 2e-6 * Math.PI * hz * microseconds).exp();
        for (int seed = 1; seed <= 3; seed++) {
            assertThat(tested(COIL, 0.003, early, new Random(seed)).isImpedance())
                    .isEqualTo(passes);
        }
    }

    @Test
    void theStretchIsWhereTheStepIs() {
        KramersKronig.Result result = tested(COIL, 0.001, fault("step", 0.02), new Random(1));

        assertThat(result.isImpedance()).isFalse();
        KramersKronig.Stretch worst = Objects.requireNonNull(result.worst());
        assertThat(worst.fromHz()).isBetween(500.0, 1000.0);
        assertThat(worst.toHz()).isBetween(1000.0, 2000.0);
        assertThat(worst.left().pValue()).isLessThan(1e-6);
        assertThat(result.bands()).hasSize(TWELFTHS.size());
    }

    @Test
    void aWrongLoadOrGainPasses() {
        // Two loads, one entered 30 % wrong, and one gain 1 dB wrong: Z as the divider then makes it.
        double[] loads = {150, 1500};
        double entered = 1.3 * loads[1];
        double gain = Math.pow(10, 0.05);
        SourceModel image = hz -> {
            Complex z = COIL.impedance(hz);
            Complex ratio =
                    z.divide(loads[0]).add(1).divide(z.divide(loads[1]).add(1)).multiply(gain);
            // ratio = (1 + Z/R0)/(1 + Z/R1) solved for Z with what was entered.
            return ratio.subtract(1).divide(ratio.divide(-entered).add(1 / loads[0]));
        };

        assertThat(image.impedance(1000).abs() / COIL.impedance(1000).abs()).isNotCloseTo(1, within(0.05));
        assertThat(tested(image, 0.001, hz -> ONE, new Random(2)).isImpedance()).isTrue();
    }

    /** A curve of 0.2 % noise with a ripple of a size that one of its causes explains, as one standard deviation of another size. */
    private static ImpedanceCurve curve(double rippled, double stated) {
        List<BandValue> values = new ArrayList<>();
        List<PlaneCovariance> noise = new ArrayList<>();
        double[] dR = new double[TWELFTHS.size()];
        double[] dX = new double[TWELFTHS.size()];
        Random r = new Random(9);
        for (int b = 0; b < dR.length; b++) {
            double hz = TWELFTHS.midband(b);
            Complex sound = COIL.impedance(hz);
            double u = 0.002 * sound.abs();
            Complex shift =
                    sound.multiply(fault("ripple of a third", 1).apply(hz).subtract(1));
            Complex z = sound.add(shift.multiply(rippled)).add(new Complex(u * r.nextGaussian(), u * r.nextGaussian()));
            dR[b] = stated * shift.getReal();
            dX[b] = stated * shift.getImaginary();
            PlaneCovariance own = PlaneCovariance.circular(u);
            PlaneCovariance all = own.plus(PlaneCovariance.ofCause(dR[b], dX[b]));
            noise.add(b == 17 ? null : own);
            values.add(
                    b == 17
                            ? BandValue.rejected(hz, 3)
                            : BandValue.complex(
                                    hz,
                                    z.getReal(),
                                    z.getImaginary(),
                                    all,
                                    1.96 * all.modulusUncertainty(z.getReal(), z.getImaginary()),
                                    1.96 * all.phaseUncertainty(z.getReal(), z.getImaginary()),
                                    60,
                                    new BandBudget(u, 0, 0, 0, 0)));
        }
        return new ImpedanceCurve(
                TWELFTHS,
                values,
                false,
                CurveCovariance.of(List.of(SharedCause.ofOhms("ripple", CauseOrigin.DRIFT, dR, dX)), noise));
    }

    @Test
    void whatAllBandsShareExplainsWhatItsUncertaintyAllows() {
        assertThat(Objects.requireNonNull(KramersKronig.test(curve(0, 0))).isImpedance())
                .isTrue();
        assertThat(Objects.requireNonNull(KramersKronig.test(curve(0.02, 0.02))).isImpedance())
                .isTrue();
        assertThat(Objects.requireNonNull(KramersKronig.test(curve(0.02, 0.001)))
                        .isImpedance())
                .isFalse();
        assertThat(Objects.requireNonNull(KramersKronig.test(curve(0, 0))).bands())
                .hasSize(TWELFTHS.size() - 1);
    }

    @Test
    void aCurveWithoutPhaseIsNotTested() {
        List<BandValue> values = Arrays.stream(TWELFTHS.midbands())
                .mapToObj(hz -> BandValue.magnitudeOnly(hz, 200, 190, 2, 60, new BandBudget(1, 0, 0, 0, 0)))
                .toList();

        assertThat(KramersKronig.test(new ImpedanceCurve(TWELFTHS, values, false)))
                .isNull();
    }

    @Test
    void tooFewValuesAreRefused() {
        assertThatThrownBy(() -> KramersKronig.test(new double[3], new Complex[3], new double[3]))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("16 or more");
    }
}
