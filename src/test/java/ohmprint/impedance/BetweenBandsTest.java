package ohmprint.impedance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleFunction;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What a curve answers between its midbands, against closed forms of circuits. */
class BetweenBandsTest {
    private static final double K = 1.959963984540054;

    private static ImpedanceCurve exact(int fraction, double relativeU, DoubleFunction<Complex> z) {
        FrequencyBands bands = FrequencyBands.within(fraction, 20, 20_000);
        List<BandValue> values = new ArrayList<>();
        List<PlaneCovariance> noise = new ArrayList<>();
        double[] dR = new double[bands.size()];
        double[] dX = new double[bands.size()];
        for (int i = 0; i < bands.size(); i++) {
            Complex v = z.apply(bands.midband(i));
            double u = relativeU * v.abs();
            // One cause that all bands share, in the direction of Z, and noise of the same size around it.
            dR[i] = relativeU * v.getReal();
            dX[i] = relativeU * v.getImaginary();
            noise.add(PlaneCovariance.circular(u));
            PlaneCovariance c = PlaneCovariance.circular(u).plus(PlaneCovariance.ofCause(dR[i], dX[i]));
            values.add(BandValue.complex(
                    bands.midband(i),
                    v.getReal(),
                    v.getImaginary(),
                    c,
                    K * Math.sqrt(2) * u,
                    K * relativeU,
                    40,
                    new BandBudget(u, 0, u, 0, 0)));
        }
        SharedCause load = SharedCause.ofOhms("220 Ω", CauseOrigin.LOADS, dR, dX);
        return new ImpedanceCurve(bands, values, false, CurveCovariance.of(List.of(load), noise));
    }

    private static Complex omega(double hz) {
        return new Complex(0, 2 * Math.PI * hz);
    }

    /** A resistor, a capacitor and an inductor are straight lines in ln|Z| and phase: nothing is missed of them. */
    @ParameterizedTest
    @ValueSource(doubles = {26, 330, 1000, 1234.5, 19_000})
    void singleElementsComeOutExactly(double hz) {
        assertThat(exact(3, 0.01, f -> new Complex(200)).at(hz).magnitudeOhm()).isCloseTo(200, within(1e-9));
        BandValue c = exact(3, 0.01, f -> omega(f).multiply(10e-6).reciprocal()).at(hz);
        assertThat(c.reactanceOhm()).isCloseTo(-1 / (2 * Math.PI * hz * 10e-6), withinPercentage(1e-9));
        assertThat(c.resistanceOhm()).isCloseTo(0, within(1e-9));
        BandValue l = exact(3, 0.01, f -> omega(f).multiply(1e-3)).at(hz);
        assertThat(l.reactanceOhm()).isCloseTo(2 * Math.PI * hz * 1e-3, withinPercentage(1e-9));
        assertThat(l.magnitudeU95Ohm() / l.magnitudeOhm()).isCloseTo(K * Math.sqrt(2) * 0.01, within(1e-9));
    }

    /**
     * 100 Ω in parallel resonance in series with 200 Ω: the closed form. What the line misses of one that is wider than three bands is
     * what the parabola foretells, to a fifth.
     */
    @ParameterizedTest
    @CsvSource({"3, 1", "6, 2", "6, 3", "12, 2", "12, 4"})
    void whatALineMissesOfAResonanceIsStated(int fraction, double q) {
        DoubleFunction<Complex> z =
                f -> new Complex(200).add(new Complex(100).divide(new Complex(1, q * (f / 150 - 150 / f))));
        ImpedanceCurve curve = exact(fraction, 1e-9, z);
        for (double hz = 60; hz < 400; hz *= 1.013) {
            BandValue v = curve.at(hz);
            Complex truth = z.apply(hz);
            assertThat(Math.abs(v.magnitudeOhm() - truth.abs()))
                    .as("|Z| at %.1f Hz", hz)
                    .isLessThanOrEqualTo(1.2 * v.magnitudeU95Ohm() + 1e-6);
            assertThat(Math.abs(v.phaseRad() - truth.getArgument()))
                    .as("phase at %.1f Hz", hz)
                    .isLessThanOrEqualTo(1.2 * v.phaseU95Rad() + 1e-6);
        }
    }

    /** A phase near ± 180° goes the short way. */
    @Test
    void phaseDoesNotRunRound() {
        ImpedanceCurve curve = exact(1, 0.01, f -> new Complex(-100, Math.log(f / 1000) / 10));
        double turned = Math.abs(Math.toDegrees(curve.at(1050).phaseRad()));
        assertThat(turned).isBetween(179.0, 180.0);
    }

    @Test
    void atAMidbandItIsTheBandItself() {
        ImpedanceCurve curve = SampleMeasurements.movingCoilCurve(3, 30, 18_000);
        assertThat(curve.at(1000 * (1 + 1e-8))).isSameAs(curve.values().get(15));
        assertThat(curve.place(1000)).isEqualTo(new ImpedanceCurve.Place(15, 0));
    }

    @Test
    void gapsAndEndsSayNothing() {
        ImpedanceCurve gaps = SampleMeasurements.ribbonWithGaps().curve();
        double inGap = gaps.bands().midband(43) * 1.01;
        double beside = gaps.bands().midband(40) * 1.01;
        assertThat(gaps.at(inGap).status()).isEqualTo(BandStatus.REJECTED);
        assertThat(gaps.at(beside).status()).isEqualTo(BandStatus.REJECTED);
        assertThat(gaps.at(19).status()).isEqualTo(BandStatus.REJECTED);
        assertThat(gaps.at(21_000).status()).isEqualTo(BandStatus.REJECTED);
        assertThat(gaps.at(1000).isMeasured()).isTrue();
    }

    @Test
    void betweenBoundsItIsBounds() {
        ImpedanceCurve curve = SampleMeasurements.intervalsOnly().curve();
        BandValue a = curve.values().get(3);
        BandValue b = curve.values().get(4);
        BandValue v = curve.at(Math.sqrt(a.frequencyHz() * b.frequencyHz()));
        assertThat(v.status()).isEqualTo(BandStatus.INTERVAL);
        assertThat(v.magnitudeLowOhm()).isEqualTo(Math.min(a.magnitudeLowOhm(), b.magnitudeLowOhm()));
        assertThat(v.magnitudeHighOhm()).isEqualTo(Math.max(a.magnitudeHighOhm(), b.magnitudeHighOhm()));
    }

    /** An error of a level moves Z by the same share everywhere, so also between two bands, and on another grid. */
    @Test
    void anotherGridKeepsUncertaintyAndWhatBandsShare() {
        DoubleFunction<Complex> z = f -> new Complex(200, f / 100);
        ImpedanceCurve thirds = exact(12, 0.01, z).on(FrequencyBands.within(3, 25, 16_000));
        BandValue v = thirds.at(1000);
        double modulus = v.magnitudeOhm();
        assertThat(modulus).isCloseTo(z.apply(1000).abs(), within(1e-4 * modulus));
        assertThat(v.covariance().modulusUncertainty(v.resistanceOhm(), v.reactanceOhm()))
                .isCloseTo(Math.sqrt(2) * 0.01 * modulus, within(1e-5 * modulus));
        assertThat(thirds.logMagnitudeCovariance(3, 20)).isCloseTo(1e-4, within(1e-9));
        assertThat(v.magnitudeStandardUncertaintyOhm() / modulus).isCloseTo(Math.sqrt(2) * 0.01, within(1e-4));
    }

    @Test
    void itsOwnGridChangesNothing() {
        ImpedanceCurve curve = SampleMeasurements.movingCoilCurve(6, 30, 18_000);
        assertThat(curve.on(curve.bands()).values()).isEqualTo(curve.values());
    }

    /** The same error of a load in both falls out of their ratio; noise is left, √2 times that of one. */
    @Test
    void aRatioOfTheSameBenchHasNoErrorOfTheBench() {
        ImpedanceCurve before = exact(12, 0.01, f -> new Complex(200, f / 100));
        ImpedanceCurve after = exact(12, 0.01, f -> new Complex(220, f / 100 * 1.1));
        ImpedanceCurve.LogRatio same = after.ratioTo(before, 997, true);
        ImpedanceCurve.LogRatio other = after.ratioTo(before, 997, false);
        assertThat(same.log()).isCloseTo(Math.log(1.1), within(1e-12));
        assertThat(same.u()).isCloseTo(Math.sqrt(2) * 0.01, within(1e-4));
        assertThat(other.u()).isCloseTo(2 * 0.01, within(1e-4));
        assertThat(after.ratioTo(before, 21_000, false)).isNull();
    }

    /** Student's t for 4 degrees of freedom is 2.776; JCGM 100:2008, table G.2 (from memory). */
    @Test
    void theFewerDegreesOfFreedomCount() {
        BandValue few = BandValue.complex(
                1000, 100, 0, PlaneCovariance.circular(1), 2.776445, 0.02, 40, new BandBudget(1, 0, 0, 0, 0));
        BandValue many = BandValue.complex(
                FrequencyBands.within(1, 1000, 2000).midband(1),
                100,
                0,
                PlaneCovariance.circular(1),
                1.96,
                0.02,
                40,
                new BandBudget(1, 0, 0, 0, 0));
        ImpedanceCurve curve = new ImpedanceCurve(FrequencyBands.within(1, 1000, 2000), List.of(few, many), false);
        assertThat(few.magnitudeFreedom()).isCloseTo(4, within(1e-5));
        assertThat(many.magnitudeFreedom()).isInfinite();
        assertThat(curve.magnitudeFreedom(1300)).isCloseTo(4, within(1e-5));
    }
}
