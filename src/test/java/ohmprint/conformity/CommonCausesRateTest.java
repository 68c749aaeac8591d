package ohmprint.conformity;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import ohmprint.conformity.Limits.Side;
import ohmprint.conformity.Specification.AppliesTo;
import ohmprint.conformity.Specification.MaskRange;
import ohmprint.conformity.Specification.RatedImpedance;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** How often a curve on its limit is called outside, when errors that bands have in common are drawn at random. */
@Tag("statistics")
class CommonCausesRateTest extends CommonErrorCurves {
    private static Specification everything() {
        List<ReferenceCurve.Point> points = List.of(
                new ReferenceCurve.Point(200, 300, 240, 360, 0), new ReferenceCurve.Point(10_000, 300, 240, 360, 0));
        return new Specification(
                "all",
                null,
                AppliesTo.ALL,
                new RatedImpedance(300, 20, BANDS.midband(14)),
                List.of(new MaskRange(200, 10_000, 240, 360)),
                null,
                new ReferenceCurve(points, 201, 9900, null));
    }

    /** Every band truly on a limit, errors drawn with the part in common: called outside at the rate and hardly less often. */
    @ParameterizedTest(name = "every band on {0} Ω, errors in common {1}")
    @CsvSource({"240, 0", "240, 0.7", "360, 0.95", "240, 1"})
    void aCurveOnItsLimitIsCalledOutsideAtTheRate(double ohm, double common) {
        Verdict allowance = decide(everything(), curve(hz -> ohm, common));
        SplittableRandom random = new SplittableRandom(11);
        int draws = 20_000;
        double chance = 3.5 * Math.sqrt(RATE * (1 - RATE) / draws);
        int outside = 0;
        for (int d = 0; d < draws; d++) {
            double[] error = errors(common, random);
            outside += anyBeyond(allowance, error, ohm == 240 ? Side.LOW : Side.HIGH) ? 1 : 0;
        }
        assertThat(outside / (double) draws).isBetween(RATE - chance, RATE + chance);
    }

    /** The rule of the decision, written out: an error beyond a limit by more than the guard of its check. */
    private static boolean anyBeyond(Verdict allowance, double[] error, Side side) {
        for (RequirementVerdict requirement : allowance.requirements()) {
            for (BandCheck check : requirement.checks()) {
                double there = at(error, check.hz());
                if ((side == Side.LOW ? -there : there) > check.guardOhm()) {
                    return true;
                }
            }
        }
        return false;
    }

    /** The whole decision with drawn curves: rated impedance, mask and reference at once. */
    @Test
    void theWholeDecisionKeepsTheRate() {
        SplittableRandom random = new SplittableRandom(12);
        int draws = 500;
        int outside = 0;
        for (int d = 0; d < draws; d++) {
            double[] error = errors(0.95, random);
            ImpedanceCurve drawn = curve(hz -> 240 + at(error, hz), 0.95);
            outside += decide(everything(), drawn).conformity() == Conformity.OUTSIDE ? 1 : 0;
        }
        double chance = 3 * Math.sqrt(RATE * (1 - RATE) / draws);
        assertThat(outside / (double) draws).isBetween(RATE - chance, RATE + chance);
    }

    /** The covariance of a real measurement: complex errors drawn from it, |Z| of the erroneous Z against the guard bands. */
    @ParameterizedTest
    @ValueSource(strings = {"healthy", "shorted", "borderline"})
    void theCovarianceOfAMeasurementKeepsTheRate(String name) throws Exception {
        String text = Files.readString(Path.of("fixtures/check/" + name + ".json"));
        ImpedanceCurve curve = CurveJson.read(text, name).curve();
        Verdict verdict = decide(mask(240, 360), curve);
        List<BandCheck> checks = verdict.requirements().get(0).checks();
        assertThat(checks).hasSize(34);
        int first = 0;
        while (curve.bands().midband(first) < checks.get(0).hz() * (1 - 1e-9)) {
            first++;
        }
        SplittableRandom random = new SplittableRandom(13);
        int draws = 20_000;
        double chance = 3.5 * Math.sqrt(RATE * (1 - RATE) / draws);
        int low = 0;
        int high = 0;
        for (int d = 0; d < draws; d++) {
            double[] error = magnitudeErrors(curve, random);
            boolean below = false;
            boolean above = false;
            for (int i = 0; i < checks.size(); i++) {
                below |= -error[first + i] > guard(checks, i);
                above |= error[first + i] > guard(checks, i);
            }
            low += below ? 1 : 0;
            high += above ? 1 : 0;
        }
        assertThat(low / (double) draws).isBetween(0.5 * RATE, RATE + chance);
        assertThat(high / (double) draws).isBetween(0.5 * RATE, RATE + chance);
        assertThat(factor(verdict, 0)).isBetween(1.96, 2.9);
    }

    private static double guard(List<BandCheck> checks, int i) {
        return checks.get(i).guardOhm();
    }

    /** |Z + dZ| − |Z| of every band for errors drawn from the covariance of the curve. */
    private static double[] magnitudeErrors(ImpedanceCurve curve, SplittableRandom random) {
        CurveCovariance covariance = curve.covariance();
        double[] x = IntStream.range(0, covariance.causes().size())
                .mapToDouble(k -> random.nextGaussian())
                .toArray();
        double[] out = new double[covariance.size()];
        for (int b = 0; b < out.length; b++) {
            PlaneCovariance noise = covariance.noise(b);
            double root = Math.sqrt(noise.varR());
            double e = random.nextGaussian();
            double r = root * e;
            double cross = noise.covRX() / root;
            double z = cross * e + Math.sqrt(Math.max(0, noise.varX() - cross * cross)) * random.nextGaussian();
            for (int k = 0; k < x.length; k++) {
                r += x[k] * covariance.causes().get(k).resistanceOhm(b);
                z += x[k] * covariance.causes().get(k).reactanceOhm(b);
            }
            BandValue v = curve.values().get(b);
            out[b] = Math.hypot(v.resistanceOhm() + r, v.reactanceOhm() + z) - v.magnitudeOhm();
        }
        return out;
    }
}
