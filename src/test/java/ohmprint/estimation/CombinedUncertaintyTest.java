package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import ohmprint.estimation.BandUncertainty.CombinedUncertainty;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.CauseOrigin;
import org.junit.jupiter.api.Test;

/** Sums of parts and their factor against worked examples of JCGM 100 and closed forms. */
class CombinedUncertaintyTest {
    private static final double KNOWN = Double.POSITIVE_INFINITY;

    /**
     * Noise of 3 on 4 and drift of 4 on 10 degrees of freedom: u = 5, ν_eff = 625/(81/4 + 256/10) = 13.6 (JCGM 100:2008, equation
     * G.2b), and Student's t between 2.16 and 2.14 for 13 and 14 degrees (table G.2).
     */
    @Test
    void fewObservationsOfEachPart() {
        CombinedUncertainty sum = new CombinedUncertainty(3, 4, 10, 1);
        sum.add(-4, CauseOrigin.DRIFT, false);
        assertThat(sum.combined()).isCloseTo(5, within(1e-12));
        assertThat(sum.factor()).isBetween(2.1448, 2.1604);
        assertThat(sum.expanded()).isCloseTo(5 * sum.factor(), within(1e-12));
    }

    /** Only noise and drift rest on observations: a known part as large as both brings ν_eff to 2500/45.85 = 54.5, t = 2.005. */
    @Test
    void whatIsKnownAddsNoDoubt() {
        CombinedUncertainty sum = new CombinedUncertainty(3, 4, 10, 2);
        sum.add(4, CauseOrigin.DRIFT, false);
        sum.add(5, CauseOrigin.TIMING, false);
        assertThat(sum.factor()).isCloseTo(2.005, within(0.001));
    }

    /** Two equal rectangles make a triangle: √6·(1 − √0.05) (closed form); the same parts as normal ones have 1.96. */
    @Test
    void tolerancesHaveTheirOwnFactor() {
        CombinedUncertainty rectangles = new CombinedUncertainty(0, KNOWN, KNOWN, 2);
        CombinedUncertainty normal = new CombinedUncertainty(0, KNOWN, KNOWN, 2);
        for (CauseOrigin origin : new CauseOrigin[] {CauseOrigin.LOADS, CauseOrigin.INPUT}) {
            rectangles.add(2, origin, true);
            normal.add(2, origin, false);
        }
        assertThat(rectangles.factor()).isCloseTo(Math.sqrt(6) * (1 - Math.sqrt(0.05)), within(2e-4));
        assertThat(normal.factor()).isCloseTo(1.95996, within(1e-5));
    }

    @Test
    void theBudgetAddsSquaresByOrigin() {
        CombinedUncertainty sum = new CombinedUncertainty(3, KNOWN, KNOWN, 6);
        sum.add(4, CauseOrigin.NOISE, false);
        sum.add(6, CauseOrigin.LOADS, true);
        sum.add(-8, CauseOrigin.LOADS, true);
        sum.add(7, CauseOrigin.INPUT, true);
        sum.add(2, CauseOrigin.TIMING, false);
        sum.add(1, CauseOrigin.DRIFT, false);
        assertThat(sum.budget()).isEqualTo(new BandBudget(5, 1, 10, 7, 2));
        assertThat(sum.combined())
                .isCloseTo(sum.budget().combined(), within(1e-12))
                .isCloseTo(Math.sqrt(179), within(1e-12));
    }
}
