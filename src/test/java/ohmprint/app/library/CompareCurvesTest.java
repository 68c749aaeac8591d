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
import ohmprint.app.StoredCurve;
import ohmprint.curve.BandBudget;
import ohmprint.curve.BandValue;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;
import ohmprint.curve.PlaneCovariance;
import ohmprint.library.InventedUnits;
import org.junit.jupiter.api.Test;

class CompareCurvesTest {
    private static final double OWN = 0.004;
    private static final double BENCH = 0.003;

    /** 200 Ω times what is given, with an error of each band's own and one that all share, as stated in its budget. */
    private static StoredCurve curve(int fraction, DoubleUnaryOperator factor, Random random, double shared) {
        FrequencyBands bands = FrequencyBands.within(fraction, 50, 15_000);
        List<BandValue> values = new ArrayList<>();
        for (double f : bands.midbands()) {
            double truth = 200 * factor.applyAsDouble(f);
            double r = truth * Math.exp(OWN * random.nextGaussian() + BENCH * shared);
            double u = Math.hypot(OWN, BENCH) * truth;
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
        Measurement m = InventedUnits.unit(1);
        return new StoredCurve(
                "curve",
                new Measurement(
                        m.microphone(),
                        new ImpedanceCurve(bands, values, false),
                        m.route(),
                        m.routeReason(),
                        m.usability(),
                        m.findings(),
                        m.provenance()));
    }

    private static CurveDifference compared(StoredCurve a, StoredCurve b, boolean sameBench) throws Exception {
        return CompareCurves.of(List.of(a, b), sameBench).differences().get(0);
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
            CurveDifference d = compared(curve(12, f -> 1, random, a), curve(12, f -> 1, random, b), same);
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
            CurveDifference d = compared(
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
        CurveDifference d =
                compared(curve(12, f -> 1, random, 0), curve(12, f -> f > 900 && f < 2100 ? 1.2 : 1, random, 0), false);

        assertThat(d.ranges()).singleElement().satisfies(r -> {
            assertThat(r.fromHz()).isBetween(900.0, 960.0);
            assertThat(r.toHz()).isBetween(1980.0, 2100.0);
            // the twelfth octaves 1000·10^(0.0125(2x+1)) Hz with x from -2 to 12
            assertThat(r.bands()).isEqualTo(15);
            assertThat(r.largest().percent()).isCloseTo(20, within(2.0));
        });
        CurveDifference.Band band = d.bands().get(5);
        double half = Math.log1p(band.highPercent() / 100) - Math.log1p(band.percent() / 100);
        // independent: u² = 2·(own² + bench²), U = 1.96 u
        assertThat(half).isCloseTo(1.96 * Math.sqrt(2) * Math.hypot(OWN, BENCH), within(1e-4));
        CurveDifference same = compared(curve(12, f -> 1, random, 0), curve(12, f -> 1, random, 0), true);
        CurveDifference.Band narrow = same.bands().get(5);
        assertThat(Math.log1p(narrow.highPercent() / 100) - Math.log1p(narrow.percent() / 100))
                .isCloseTo(1.96 * Math.sqrt(2) * OWN, within(1e-4));
    }

    @Test
    void curvesOnDifferentGridsMeetOnTheCoarser() throws Exception {
        CurveDifference d = compared(
                curve(24, f -> Math.pow(f / 1000, 0.3), new Random(1), 0),
                curve(3, f -> Math.pow(f / 1000, 0.3), new Random(2), 0),
                false);

        assertThat(d.bands()).hasSizeBetween(23, 25);
        assertThat(d.bands().get(2).hz()).isCloseTo(100, within(0.1));
        assertThat(d.count()).isZero();
    }

    @Test
    void whatWasAssumedIsSaid() throws Exception {
        StoredCurve a = curve(12, f -> 1, new Random(1), 0);
        StoredCurve b = curve(12, f -> 1, new Random(2), 0);

        assertThat(compared(a, b, false).assumed()).contains("--same-bench").contains("the same recordings");
        assertThat(compared(a, b, true).assumed()).contains("as you said");
        assertThatThrownBy(() -> CompareCurves.run(new LibraryPlace(null, Map.of()), List.of("a.json"), false))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("two to 6");
    }
}
