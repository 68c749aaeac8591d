package ohmprint.spec;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.IntStream;
import ohmprint.curve.BandValue;
import ohmprint.curve.CauseOrigin;
import ohmprint.curve.CurveCovariance;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.PlaneCovariance;
import ohmprint.curve.SharedCause;
import ohmprint.exchange.CurveJson;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Decisions on curves that tell what the errors of their bands have in common. */
class CommonCausesTest {
    private static final double RATE = GuardBand.SIDE_RATE;
    private static final FrequencyBands BANDS = FrequencyBands.within(6, 200, 10_000);
    private static final double U = 1.5;

    /** Python's {@code NormalDist().inv_cdf(0.975 ** (1 / 34))} and {@code inv_cdf(1 - 0.025 / 34)}. */
    private static final double SIDAK_34 = 3.176872;

    private static final double BONFERRONI_34 = 3.180426;

    /** A resistive curve with the standard uncertainty {@link #U}, the given part of it common to all bands. */
    private static ImpedanceCurve curve(DoubleUnaryOperator ohm, double common) {
        int n = BANDS.size();
        List<BandValue> values = new ArrayList<>();
        for (double hz : BANDS.midbands()) {
            values.add(Curves.value(hz, ohm.applyAsDouble(hz), U, GuardBand.NORMAL_FACTOR));
        }
        double[] shared = IntStream.range(0, n).mapToDouble(i -> U * common).toArray();
        PlaneCovariance own = PlaneCovariance.circular(U * Math.sqrt(1 - common * common));
        return new ImpedanceCurve(
                BANDS,
                values,
                false,
                CurveCovariance.of(
                        List.of(SharedCause.ofOhms("level", CauseOrigin.DRIFT, shared, new double[n])),
                        Collections.nCopies(n, own)));
    }

    private static ImpedanceCurve withoutCovariance(ImpedanceCurve curve) {
        return new ImpedanceCurve(curve.bands(), curve.values(), false);
    }

    private static Specification mask(double low, double high) {
        return Curves.mask(new MaskRange(200, 10_000, low, high));
    }

    private static double factor(Verdict verdict, int requirement) {
        BandCheck check = verdict.requirements().get(requirement).checks().get(0);
        return GuardBand.NORMAL_FACTOR * check.guardOhm() / check.u95Ohm();
    }

    private static Verdict decide(Specification specification, ImpedanceCurve curve) {
        return Decision.of(specification, Curves.ribbon(curve));
    }

    /** One error in all bands is as one check; independent ones take the closed form of Šidák for 34; unknown ones Bonferroni. */
    @Test
    void theAllowanceGoesFromNoneToThatOfIndependentErrors() {
        assertThat(factor(decide(mask(240, 360), curve(hz -> 300, 1)), 0)).isBetween(1.96, 1.99);
        double half = factor(decide(mask(240, 360), curve(hz -> 300, 0.9)), 0);
        assertThat(half).isBetween(2.3, 2.8);
        assertThat(BANDS.size()).isEqualTo(34);
        assertThat(factor(decide(mask(240, 360), curve(hz -> 300, 0)), 0)).isCloseTo(SIDAK_34, within(2e-4));
        assertThat(factor(decide(mask(240, 360), withoutCovariance(curve(hz -> 300, 0.9))), 0))
                .isCloseTo(BONFERRONI_34, within(1e-4));
    }

    @Test
    void aCommonErrorDecidesWhatUnknownOnesLeaveOpen() {
        // 2.3 u below the limit in all bands.
        ImpedanceCurve low = curve(hz -> 240 - 2.3 * U, 0.99);
        assertThat(decide(mask(240, 360), low).conformity()).isEqualTo(Conformity.OUTSIDE);
        assertThat(decide(mask(240, 360), withoutCovariance(low)).conformity()).isEqualTo(Conformity.UNDECIDED);
        assertThat(FaultPatterns.of(mask(240, 360), Curves.ribbon(low), decide(mask(240, 360), low)))
                .isNotEmpty();
    }

    /** Limits to one side in one half and to the other side in the other half: fewer checks to a side, less allowance. */
    @Test
    void onlyChecksOfTheSameSideCount() {
        Specification halves = Curves.mask(
                new MaskRange(200, 1400, 240, Double.POSITIVE_INFINITY), new MaskRange(1400, 10_000, 0, 360));
        ImpedanceCurve unknown = withoutCovariance(curve(hz -> 300, 0));
        double all = factor(decide(mask(240, 360), unknown), 0);
        double half = factor(decide(halves, unknown), 0);
        assertThat(all).isCloseTo(GuardBand.normalFactor(RATE / 34), within(1e-6));
        assertThat(half).isCloseTo(GuardBand.normalFactor(RATE / 17), within(1e-6));
    }

    /** The same band in two requirements errs once: two masks in one need nothing more than one. */
    @Test
    void theSameBandTwiceCostsNothing() {
        Specification twice = Curves.mask(new MaskRange(200, 10_000, 240, 360), new MaskRange(200, 10_000, 240, 360));
        assertThat(factor(decide(twice, curve(hz -> 300, 0.5)), 0))
                .isCloseTo(factor(decide(mask(240, 360), curve(hz -> 300, 0.5)), 0), within(1e-3));
    }

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

    /** An error of each band in ohms. */
    private static double[] errors(double common, SplittableRandom random) {
        double shared = random.nextGaussian();
        return IntStream.range(0, BANDS.size())
                .mapToDouble(i -> U * (common * shared + Math.sqrt(1 - common * common) * random.nextGaussian()))
                .toArray();
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

    /** Error of the band with this midband. */
    private static double at(double[] error, double hz) {
        int b = 0;
        while (BANDS.midband(b) < hz * (1 - 1e-9)) {
            b++;
        }
        return error[b];
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

    /** A hill that is lower than its uncertainty: a common error does not move its top, an unknown one might. */
    @Test
    void aCommonErrorDoesNotHideTheResonance() {
        DoubleUnaryOperator hill = hz -> 300 - 8 * Math.pow(Math.log(hz / 1500), 2);
        Specification window = Curves.resonance(new ResonanceWindow(800, 2800, 400, 5000));
        ImpedanceCurve common = curve(hill, 0.999);
        assertThat(decide(window, common).conformity()).isEqualTo(Conformity.WITHIN);
        assertThat(decide(window, withoutCovariance(common)).conformity()).isEqualTo(Conformity.UNDECIDED);
    }

    /** The top truly on the end of the window, most of the error in common. */
    @ParameterizedTest(name = "window {0} to {1} Hz")
    @CsvSource({"500, 917.275935389779", "1090.184492, 2000"})
    void aResonanceOnTheEndOfItsWindowIsRarelyDecided(double from, double to) {
        double top = from < 600 ? to : from;
        Specification window = Curves.resonance(new ResonanceWindow(from, to, 300, 4000));
        SplittableRandom random = new SplittableRandom(14);
        int draws = 1500;
        int within = 0;
        int outside = 0;
        for (int d = 0; d < draws; d++) {
            double[] error = errors(0.98, random);
            Verdict verdict =
                    decide(window, curve(hz -> 300 - 12 * Math.pow(Math.log(hz / top), 2) + at(error, hz), 0.98));
            within += verdict.conformity() == Conformity.WITHIN ? 1 : 0;
            outside += verdict.conformity() == Conformity.OUTSIDE ? 1 : 0;
        }
        double most = draws * (RATE + 3 * Math.sqrt(RATE * (1 - RATE) / draws));
        assertThat(within).isLessThan((int) most);
        assertThat(outside).isLessThan((int) most);
    }
}
