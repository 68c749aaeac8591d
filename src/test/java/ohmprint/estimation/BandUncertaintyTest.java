package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import ohmprint.estimation.BandSolver.BandFit;
import ohmprint.estimation.Nuisance.PosteriorCauses;
import ohmprint.impedance.BandValue;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What a band states: a worked example of JCGM 100, and the limits beyond which nothing is stated. */
class BandUncertaintyTest {
    private static final double KNOWN = Double.POSITIVE_INFINITY;
    /** The two gains of two takes: causes of any effect that is wanted. */
    private static final LoadedTakes TWO = CircuitBins.resistorsOnly(150, 1500);

    private static BandValue stated(
            double r,
            double x,
            double noise,
            double snr,
            double scale,
            double[] sensitivityRe,
            double[] sensitivityIm) {
        BandFit fit =
                new BandFit(1000, r, x, noise * noise, 0, 1e9, 1, 1e9, snr, 0, 100, 100, sensitivityRe, sensitivityIm);
        PosteriorCauses causes = new PosteriorCauses(new Priors(0.001, 0).nuisances(TWO), TWO, null);
        return new BandUncertainty(causes, KNOWN).of(fit, scale, KNOWN);
    }

    /**
     * Simultaneous resistance and reactance, JCGM 100:2008, H.2 (from memory): R = 127.732 Ω, X = 219.847 Ω, u(R) = 0.071 Ω, u(X) =
     * 0.295 Ω, r = −0.588 give u(Z) = 0.236 Ω for Z = 254.260 Ω; the phase was measured with u = 0.00075 rad.
     */
    @Test
    void modulusAndPhaseOfCorrelatedParts() {
        double correlation = -0.588;
        BandValue v = stated(127.732, 219.847, 0, 1e4, 1, new double[] {0.071, 0}, new double[] {
            correlation * 0.295, Math.sqrt(1 - correlation * correlation) * 0.295
        });
        assertThat(v.magnitudeOhm()).isCloseTo(254.260, within(0.001));
        assertThat(v.magnitudeU95Ohm() / 1.96).isCloseTo(0.236, within(0.001));
        assertThat(v.phaseU95Rad() / 1.96).isCloseTo(0.00075, within(0.000005));
        assertThat(v.byDraws()).isFalse();
    }

    /** 6 dB, a power ratio of 3.98, is the least of signal over the noise that was observed. */
    @ParameterizedTest
    @CsvSource({"3.9, 1, false", "4.1, 1, true", "7.8, 2, false", "8.2, 2, true"})
    void aWeakBandStatesNothing(double snr, double scale, boolean measured) {
        assertThat(stated(200, 50, 1, snr, scale, new double[2], new double[2]).isMeasured())
                .isEqualTo(measured);
    }

    /** A 95 % uncertainty as large as the value says nothing: 1.96·u from noise is all of 100 Ω at 51 Ω. */
    @ParameterizedTest
    @CsvSource({"40, true", "60, false", "90, false"})
    void aValueWithinItsUncertaintyIsNotStated(double noise, boolean measured) {
        assertThat(stated(100, 0, noise, 1e4, 1, new double[2], new double[2]).isMeasured())
                .isEqualTo(measured);
    }
}
