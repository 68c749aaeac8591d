package ohmprint.app.plan;

import java.util.List;
import ohmprint.app.NamedCurve;
import ohmprint.app.measure.LevelDrift;
import ohmprint.session.Assumed;
import org.jspecify.annotations.Nullable;

/**
 * For which session loads are wanted.
 *
 * @param expected the impedance that is expected
 * @param inputOhm resistance of the recording input in ohms
 * @param inputTolerancePercent its tolerance in percent
 * @param inputPf its capacitance with the cable in picofarads, 0 when left out
 * @param fromHz lowest midband in hertz, or null for the lowest that is usual, or that the expected curve has
 * @param toHz highest midband in hertz, or null likewise
 * @param bench how steady and how quiet it is
 * @param resistors which there are
 * @param wantedPercent wanted relative 95 % uncertainty of |Z| in percent, or null
 */
public record PlanRequest(
        Expected expected,
        double inputOhm,
        double inputTolerancePercent,
        double inputPf,
        @Nullable Double fromHz,
        @Nullable Double toHz,
        Bench bench,
        Resistors resistors,
        @Nullable Double wantedPercent) {
    /** Tolerance of the recording input in percent when none is stated: that of a session without one. */
    public static final double DEFAULT_INPUT_TOLERANCE_PERCENT = Assumed.INPUT_TOLERANCE_PERCENT;

    /** Everything but the impedance and the input left to the program. */
    public static PlanRequest of(Expected expected, double inputOhm) {
        return new PlanRequest(
                expected, inputOhm, DEFAULT_INPUT_TOLERANCE_PERCENT, 0, null, null, Bench.USUAL, Resistors.USUAL, null);
    }

    /**
     * The expected impedance, by exactly one of three.
     *
     * @param impedanceOhm a resistance at all frequencies, ohms, or null
     * @param transducer moving-coil, ribbon or condenser, or null
     * @param curve a curve that was measured, named as for {@link NamedCurve#of}, or null
     */
    public record Expected(
            @Nullable Double impedanceOhm,
            @Nullable String transducer,
            @Nullable String curve) {
        /** A resistance in ohms. */
        public static Expected ofOhms(double ohm) {
            return new Expected(ohm, null, null);
        }

        /** A usual microphone of that kind. */
        public static Expected ofTransducer(String transducer) {
            return new Expected(null, transducer, null);
        }

        /** A curve that was measured, named as for {@link NamedCurve#of}. */
        public static Expected ofCurve(String curve) {
            return new Expected(null, null, curve);
        }
    }

    /**
     * How steady and how quiet the bench is.
     *
     * @param driftPercent standard uncertainty of the level of a take, percent
     * @param snrDb signal over noise of a take without a resistor, per bin, decibels
     * @param seconds length of the sound in seconds
     */
    public record Bench(double driftPercent, double snrDb, double seconds) {
        /** The drift that a measurement assumes; a quiet room and a sweep of moderate length (common practice, no source). */
        public static final Bench USUAL = new Bench(100 * LevelDrift.COMPARED, 40, 10);
    }

    /**
     * Which resistors there are.
     *
     * @param series E12, E24 or E96; not looked at when a stock is given
     * @param stockOhm values at hand in ohms; empty for the whole series
     * @param tolerancePercent their tolerance in percent
     * @param minimumLoadOhm the smallest load that the maker of the microphone allows, or null
     */
    public record Resistors(
            String series,
            List<Double> stockOhm,
            double tolerancePercent,
            @Nullable Double minimumLoadOhm) {
        /** Twelve values per decade, with the tolerance that a session without one assumes. */
        public static final Resistors USUAL = new Resistors("E12", List.of(), Assumed.LOAD_TOLERANCE_PERCENT, null);

        /** Copies the list. */
        public Resistors {
            stockOhm = List.copyOf(stockOhm);
        }
    }
}
