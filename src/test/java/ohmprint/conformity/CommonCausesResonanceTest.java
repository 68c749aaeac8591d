package ohmprint.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import ohmprint.conformity.Specification.ResonanceWindow;
import ohmprint.impedance.ImpedanceCurve;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The resonance of a curve whose bands have errors in common. */
class CommonCausesResonanceTest extends CommonErrorCurves {
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
