package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.SourceModel;
import ohmprint.impedance.ChiSquare;
import ohmprint.impedance.Consistency;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** χ² of takes, of what was entered and of bands: right by chance as often as it should be, and wrong when something is. */
@Tag("slow")
class ConsistencyTest {
    private static final FrequencyBands BANDS = FrequencyBands.within(3, 100, 8000);
    private static final double[] HZ = CircuitBins.frequencies(90, 9000, 300);
    private static final SourceModel COIL = hz -> new Complex(200, hz / 25);
    private static final double GAIN = 0.002;
    private static final int SESSIONS = 300;

    /** Upper 5 % and 1 % points, NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4 (from memory). */
    @ParameterizedTest
    @CsvSource({"3.841, 1, 0.05", "7.815, 3, 0.05", "18.307, 10, 0.05", "23.209, 10, 0.01", "124.342, 100, 0.05"})
    void probabilitiesAreThoseOfTheTable(double value, double freedom, double probability) {
        assertThat(new ChiSquare(value, freedom).pValue()).isCloseTo(probability, within(2e-4 * probability / 0.05));
    }

    @Test
    void soundTakesAreSuspectedAsOftenAsChanceHasIt() {
        int entered = 0;
        int takes = 0;
        int bands = 0;
        int count = 0;
        for (long seed = 0; seed < SESSIONS; seed++) {
            Consistency c = consistency(seed, 1, 1);
            entered += sum(c.entered()).pValue() < 0.05 ? 1 : 0;
            takes += sum(c.takes()).pValue() < 0.05 ? 1 : 0;
            for (ChiSquare band : c.bands()) {
                bands += sum(band).pValue() < 0.05 ? 1 : 0;
                count++;
            }
        }
        double allowed = 3 * Math.sqrt(0.05 * 0.95 / SESSIONS);
        assertThat((double) entered / SESSIONS).isCloseTo(0.05, within(allowed));
        assertThat((double) takes / SESSIONS).isCloseTo(0.05, within(allowed));
        assertThat((double) bands / count).isCloseTo(0.05, within(0.02));
    }

    @Test
    void aLoadThatIsNotAsEnteredShowsInWhatWasEntered() {
        Consistency c = consistency(1, 1.05, 1);
        assertThat(sum(c.entered()).pValue()).isLessThan(1e-6);
    }

    @Test
    void moreNoiseThanStatedShowsInTheTakesAndBands() {
        Consistency c = consistency(1, 1, 2);
        assertThat(sum(c.takes()).ratio()).isCloseTo(2, within(0.3));
        assertThat(sum(c.takes()).pValue()).isLessThan(1e-6);
        assertThat(c.bands()).allMatch(b -> sum(b).ratio() > 1.2);
        assertThat(sum(c.entered()).pValue()).isGreaterThan(0.01);
    }

    @Test
    void twoTakesHaveNothingToDisagreeAbout() {
        LoadedTakes two = CircuitBins.resistorsOnly(150, 1500);
        assertThat(new CoherentSolver(BANDS, new Priors(GAIN, 0))
                        .solve(CircuitBins.of(COIL, two, 1e-6).exact(HZ), two)
                        .consistency())
                .isNull();
    }

    /**
     * Twelve bins with so much noise that they tell the gains only in part: the mean of χ² is its degrees of freedom all the same,
     * for what was entered and for what is left over, of which the departures have taken their part.
     */
    @Test
    void gainsThatAreToldInPartDepartByTheirPart() {
        double[] few = CircuitBins.frequencies(200, 4000, 12);
        double variance = 1e-4;
        LoadedTakes takes = CircuitBins.resistorsOnly(100, 330, 1000, 5000);
        double departed = 0;
        double directions = 0;
        double left = 0;
        double freedom = 0;
        for (long seed = 0; seed < SESSIONS; seed++) {
            Random random = CircuitBins.seeded(seed);
            CircuitBins bins = CircuitBins.of(COIL, takes, variance);
            for (int k = 0; k < takes.size(); k++) {
                bins = bins.withGain(k, Math.exp(GAIN * random.nextGaussian()));
            }
            SharedFit fit = SharedFit.of(bins.noisy(random, few), takes, new Priors(GAIN, 0).nuisances(takes));
            departed += sum(fit.departed()).value();
            directions += sum(fit.departed()).freedom();
            left += sum(fit.leftOver()).value();
            freedom += sum(fit.leftOver()).freedom();
        }
        assertThat(departed / directions).isCloseTo(1, within(0.1));
        assertThat(left / freedom).isCloseTo(1, within(4 * Math.sqrt(2 / freedom)));
    }

    /** Six bins with little noise: two departures fit away two of 24 degrees of freedom, which their own squares bring back. */
    @Test
    void whatTheDeparturesCostIsCounted() {
        LoadedTakes takes = CircuitBins.resistorsOnly(100, 330, 1000, 5000);
        double left = 0;
        double freedom = 0;
        for (long seed = 0; seed < SESSIONS; seed++) {
            Random random = CircuitBins.seeded(seed);
            CircuitBins bins = CircuitBins.of(COIL, takes, 1e-6);
            for (int k = 0; k < takes.size(); k++) {
                bins = bins.withGain(k, Math.exp(GAIN * random.nextGaussian()));
            }
            BinObservations obs = bins.noisy(random, CircuitBins.frequencies(200, 4000, 6));
            ChiSquare over = sum(SharedFit.of(obs, takes, new Priors(GAIN, 0).nuisances(takes))
                    .leftOver());
            left += over.value();
            freedom += over.freedom();
        }
        assertThat(left / freedom).isCloseTo(1, within(3 * Math.sqrt(2 / freedom)));
    }

    private static ChiSquare sum(ChiSquare chi) {
        assertThat(chi).isNotNull();
        return chi;
    }

    /** Four takes with gains as believed; the second load and the noise are what they are said to be times a factor. */
    private static Consistency consistency(long seed, double load, double noise) {
        Random random = CircuitBins.seeded(seed);
        InputImpedance input = InputImpedance.ofOhms(3000, 0, 470, 0);
        LoadedTakes stated = new LoadedTakes(
                List.of(Load.ofOhms(100, 0), Load.ofOhms(330, 0), Load.ofOhms(1000, 0), Load.open()), input);
        LoadedTakes actual = stated.withLoad(1, Load.ofOhms(330 * load, 0));
        CircuitBins bins = CircuitBins.of(COIL, actual, noise * 1e-5);
        for (int k = 0; k < stated.size(); k++) {
            bins = bins.withGain(k, Math.exp(GAIN * random.nextGaussian()));
        }
        BinObservations obs = bins.noisy(random, HZ);
        for (int i = 0; i < obs.size(); i++) {
            for (int k = 0; k < obs.takes(); k++) {
                obs.setNoise(i, k, 1e-5);
            }
        }
        Consistency c = new CoherentSolver(BANDS, new Priors(GAIN, 0))
                .solve(obs, stated)
                .consistency();
        assertThat(c).isNotNull();
        return c;
    }
}
