package ohmprint.app.library;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.app.library.Comparison.Difference;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CauseOrigin;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SharedCause;
import ohmprint.library.InventedUnits;
import org.junit.jupiter.api.Test;

class ComparisonTest {
    private static final double OWN = 0.004;
    private static final double BENCH = 0.003;

    /** 200 Ω times what is given, with an error of each band's own and one that all share, as stated in its budget. */
    private static NamedCurve curve(int fraction, DoubleUnaryOperator factor, Random random, double shared) {
        FrequencyBands bands = FrequencyBands.within(fraction, 50, 15_000);
        List<BandValue> values = new ArrayList<>();
        List<PlaneCovariance> noise = new ArrayList<>();
        double[] cause = new double[bands.size()];
        for (double f : bands.midbands()) {
            double truth = 200 * factor.applyAsDouble(f);
            double r = truth * Math.exp(OWN * random.nextGaussian() + BENCH * shared);
            double u = Math.hypot(OWN, BENCH) * truth;
            cause[values.size()] = BENCH * truth;
            noise.add(PlaneCovariance.circular(OWN * truth));
            values.add(BandValue.complex(
                    f,
                    r,
                    0,
                    PlaneCovariance.circular(u),
                    1.96 * u,
                    0.01,
                    40,
                    new BandBudget(OWN * truth, 0, BENCH * truth, 0, 0)));
        }
        SharedCause loads = SharedCause.ofOhms("resistors", CauseOrigin.LOADS, cause, new double[cause.length]);
        return stored(new ImpedanceCurve(bands, values, false, CurveCovariance.of(List.of(loads), noise)));
    }

    private static NamedCurve stored(ImpedanceCurve curve) {
        Measurement m = InventedUnits.unit(1);
        return new NamedCurve(
                "curve",
                new Measurement(
                        m.microphone(),
                        curve,
                        m.route(),
                        m.routeReason(),
                        m.usability(),
                        m.findings(),
                        m.provenance()));
    }

    /** 200 Ω at 1 kHz, moved by noise of 0.1 % and by two resistors, one standard deviation of which does this to ln|Z|. */
    private static NamedCurve oneBand(double[] effects, double[] resistors, Random random) {
        FrequencyBands bands = FrequencyBands.within(1, 900, 1100);
        double noise = 0.001;
        double log = noise * random.nextGaussian();
        List<SharedCause> causes = new ArrayList<>();
        for (int c = 0; c < effects.length; c++) {
            log += effects[c] * resistors[c];
            causes.add(SharedCause.ofOhms(
                    "resistor " + c, CauseOrigin.LOADS, new double[] {200 * effects[c]}, new double[1]));
        }
        double loads = Math.hypot(effects[0], effects[1]);
        double u = 200 * Math.hypot(noise, loads);
        BandValue value = BandValue.complex(
                bands.midband(0),
                200 * Math.exp(log),
                0,
                new PlaneCovariance(u * u, 0.04, 0),
                1.96 * u,
                0.01,
                40,
                new BandBudget(200 * noise, 0, 200 * loads, 0, 0));
        return stored(new ImpedanceCurve(
                bands, List.of(value), false, CurveCovariance.of(causes, List.of(new PlaneCovariance(0.04, 0.04, 0)))));
    }

    /**
     * The same two resistors act differently on two microphones, also to opposite sides: 2 000 drawn pairs. Stated intervals of
     * the difference hold the true one, none, in 95 % of them.
     */
    @Test
    void errorsOfTheSameResistorsAreTakenOffCauseByCause() throws Exception {
        for (double[] second : new double[][] {{0.001, 0.004}, {0.004, 0.001}, {-0.004, 0.001}}) {
            Random random = new Random(9);
            int pairs = 2000;
            int inside = 0;
            for (int i = 0; i < pairs; i++) {
                double[] resistors = {random.nextGaussian(), random.nextGaussian()};
                Difference.Band d = compared(
                                oneBand(new double[] {0.004, 0.001}, resistors, random),
                                oneBand(second, resistors, random),
                                true)
                        .bands()
                        .get(0);
                inside += d.lowPercent() <= 0 && 0 <= d.highPercent() ? 1 : 0;
            }
            // 95 % ± 3.5 standard deviations of 2 000 draws
            assertThat(inside / (double) pairs).as("%s", (Object) second).isBetween(0.933, 0.967);
        }
    }

    /**
     * Each curve states t(4)·u = 2.776·u. Their difference has u·√2 on 2·4 degrees of freedom, t(8) = 2.306: JCGM 100:2008,
     * G.4.1 and table G.2.
     */
    @Test
    void theFreedomOfADifferenceIsThatOfBothCurves() throws Exception {
        double u = 0.5;
        FrequencyBands bands = FrequencyBands.within(1, 900, 1100);
        BandValue value = BandValue.complex(
                bands.midband(0),
                200,
                0,
                PlaneCovariance.circular(u),
                2.776445 * u,
                0.01,
                40,
                new BandBudget(0, u, 0, 0, 0));
        NamedCurve curve = stored(new ImpedanceCurve(bands, List.of(value), false));
        Difference.Band d = compared(curve, curve, false).bands().get(0);
        assertThat(Math.log1p(d.highPercent() / 100)).isCloseTo(2.306004 * Math.sqrt(2) * u / 200, within(1e-7));
    }

    @Test
    void withoutItsCausesACurveSharesNoErrors() throws Exception {
        NamedCurve known = curve(12, f -> 1, new Random(1), 0);
        ImpedanceCurve c = known.measurement().curve();
        NamedCurve plain = stored(new ImpedanceCurve(c.bands(), c.values(), false));
        Difference same = compared(known, plain, true);
        assertThat(same.assumed()).contains("does not tell what each load").contains("count as independent");
        assertThat(same.bands()).isEqualTo(compared(known, plain, false).bands());
    }

    private static Difference compared(NamedCurve a, NamedCurve b, boolean sameBench) throws Exception {
        return Comparison.of(List.of(a, b), sameBench).differences().get(0);
    }

    @Test
    void curvesOfOneSourceAreSeldomCalledDifferent() throws Exception {
        Random random = new Random(4711);
        int comparisons = 400;
        int any = 0;
        for (int i = 0; i < comparisons; i++) {
            // errors of the loads of their own, then the same in both
            double a = random.nextGaussian();
            boolean same = i % 2 == 0;
            double b = same ? a : random.nextGaussian();
            Difference d = compared(curve(12, f -> 1, random, a), curve(12, f -> 1, random, b), same);
            any += d.count() > 0 ? 1 : 0;
        }
        // with nothing to find every mark is a false one, so the rule promises at most 5 % of comparisons with any;
        // 5 % + 3 standard deviations of 400 draws is 8.3 %
        assertThat(any / (double) comparisons).isLessThan(0.083);
    }

    @Test
    void ofTheBandsCalledDifferentFewAreSoByChance() throws Exception {
        Random random = new Random(815);
        double falseShare = 0;
        int found = 0;
        int there = 0;
        int comparisons = 200;
        for (int i = 0; i < comparisons; i++) {
            double shared = random.nextGaussian();
            Difference d = compared(
                    curve(12, f -> 1, random, shared), curve(12, f -> f < 200 ? 0.97 : 1, random, shared), true);
            long wrong =
                    d.bands().stream().filter(b -> b.differs() && b.hz() >= 200).count();
            falseShare += d.count() == 0 ? 0 : wrong / (double) d.count();
            found += (int) (d.count() - wrong);
            there += (int) d.bands().stream().filter(b -> b.hz() < 200).count();
        }
        assertThat(falseShare / comparisons).isLessThan(0.06);
        assertThat(found / (double) there).as("share of true differences found").isGreaterThan(0.98);
    }

    @Test
    void aDifferenceHasItsSizeItsIntervalAndItsRange() throws Exception {
        Random random = new Random(1);
        Difference d =
                compared(curve(12, f -> 1, random, 0), curve(12, f -> f > 900 && f < 2100 ? 1.2 : 1, random, 0), false);

        assertThat(d.ranges()).singleElement().satisfies(r -> {
            assertThat(r.fromHz()).isBetween(900.0, 960.0);
            assertThat(r.toHz()).isBetween(1980.0, 2100.0);
            // the twelfth octaves 1000·10^(0.0125(2x+1)) Hz with x from -2 to 12
            assertThat(r.bands()).isEqualTo(15);
            assertThat(r.largest().percent()).isCloseTo(20, within(2.0));
        });
        Difference.Band band = d.bands().get(5);
        double half = Math.log1p(band.highPercent() / 100) - Math.log1p(band.percent() / 100);
        // independent: u² = 2·(own² + bench²), U = 1.96 u
        assertThat(half).isCloseTo(1.96 * Math.sqrt(2) * Math.hypot(OWN, BENCH), within(1e-4));
        Difference same = compared(curve(12, f -> 1, random, 0), curve(12, f -> 1, random, 0), true);
        Difference.Band narrow = same.bands().get(5);
        assertThat(Math.log1p(narrow.highPercent() / 100) - Math.log1p(narrow.percent() / 100))
                .isCloseTo(1.96 * Math.sqrt(2) * OWN, within(1e-4));
    }

    @Test
    void curvesOnDifferentGridsMeetOnTheCoarser() throws Exception {
        Difference d = compared(
                curve(24, f -> Math.pow(f / 1000, 0.3), new Random(1), 0),
                curve(3, f -> Math.pow(f / 1000, 0.3), new Random(2), 0),
                false);

        assertThat(d.bands()).hasSizeBetween(23, 25);
        assertThat(d.bands().get(2).hz()).isCloseTo(100, within(0.1));
        assertThat(d.count()).isZero();
    }

    @Test
    void whatWasAssumedIsSaid() throws Exception {
        NamedCurve a = curve(12, f -> 1, new Random(1), 0);
        NamedCurve b = curve(12, f -> 1, new Random(2), 0);

        assertThat(compared(a, b, false).assumed()).contains("--same-bench").contains("the same recordings");
        assertThat(compared(a, b, true).assumed()).contains("as you said");
        assertThatThrownBy(() -> Comparison.run(new LibraryConnection(null, Map.of()), List.of("a.json"), false))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("two to 6");
    }
}
