package ohmprint.app.workspace;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import ohmprint.app.BadInputException;
import ohmprint.app.plan.ExpectedSource;
import ohmprint.app.plan.LoadPlan;
import ohmprint.app.plan.PlanLoads;
import ohmprint.app.plan.PlanRequest;
import ohmprint.impedance.Permitted;
import org.jspecify.annotations.Nullable;

/** Which loads to record, before anything is connected. */
public final class LoadPlanner {
    private final CurveRepository curves;

    LoadPlanner(CurveRepository curves) {
        this.curves = curves;
    }

    /** Plans the loads of a session. */
    public LoadPlan plan(Request form) throws BadInputException, IOException {
        PlanRequest request = form.request();
        Request.Expected expected = form.wanted();
        String ref = expected.curve();
        boolean curveAlone = ref != null && expected.ohm() == null && expected.transducer() == null;
        return ref != null && curveAlone
                ? PlanLoads.run(request, ExpectedSource.of(curves.stored(ref)))
                : PlanLoads.run(request);
    }

    /**
     * For which session loads are wanted; what is null is left to the program.
     *
     * @param expected the impedance that is expected
     * @param inputOhm resistance of the recording input in ohms
     * @param inputTolerancePercent its tolerance in percent
     * @param inputPf its capacitance with the cable in picofarads
     * @param stock resistors at hand in ohms
     * @param series E12, E24 or E96, when no stock is given
     * @param tolerancePercent tolerance of the resistors in percent
     * @param driftPercent standard uncertainty of the level of a take, percent
     * @param snrDb signal over noise of a take without a resistor, decibels
     * @param seconds length of the sound
     * @param minimumLoadOhm smallest load that the maker allows, ohms
     * @param wantedPercent wanted relative 95 % uncertainty of |Z| in percent
     */
    public record Request(
            @Nullable Expected expected,
            @Nullable Double inputOhm,
            @Nullable Double inputTolerancePercent,
            @Nullable Double inputPf,
            @Nullable List<Double> stock,
            @Nullable String series,
            @Nullable Double tolerancePercent,
            @Nullable Double driftPercent,
            @Nullable Double snrDb,
            @Nullable Double seconds,
            @Nullable Double minimumLoadOhm,
            @Nullable Double wantedPercent) {
        private static final double HIGHEST_OHM = Permitted.OHM.most();
        private static final double HIGHEST_PF = Permitted.PICOFARAD.most();
        private static final double HIGHEST_DB = 160;
        private static final double LONGEST_SECONDS = 3600;

        /**
         * The expected impedance, by exactly one of three.
         *
         * @param ohm a resistance at all frequencies, ohms, or null
         * @param transducer moving-coil, ribbon or condenser, or null
         * @param curve name of a curve, or null
         */
        public record Expected(
                @Nullable Double ohm,
                @Nullable String transducer,
                @Nullable String curve) {}

        /** The expected impedance, which has to be there. */
        Expected wanted() throws BadInputException {
            if (expected == null) {
                throw new BadInputException("the expected impedance is missing; give ohms, a transducer or a curve");
            }
            return expected;
        }

        /** The request, of which the expected impedance is that of ohms or a transducer. */
        PlanRequest request() throws BadInputException {
            Expected e = wanted();
            PlanRequest.Bench usual = PlanRequest.Bench.USUAL;
            PlanRequest.Resistors resistors = PlanRequest.Resistors.USUAL;
            if (inputOhm == null) {
                throw new BadInputException("the resistance of the recording input is missing; give it in ohms");
            }
            return new PlanRequest(
                    new PlanRequest.Expected(e.ohm(), e.transducer(), e.curve()),
                    within(inputOhm, "resistance of the recording input", "Ω", HIGHEST_OHM),
                    orWithin(
                            inputTolerancePercent,
                            PlanRequest.DEFAULT_INPUT_TOLERANCE_PERCENT,
                            "input tolerance",
                            "%",
                            100),
                    orWithin(inputPf, 0, "capacitance of the input", "pF", HIGHEST_PF),
                    null,
                    null,
                    new PlanRequest.Bench(
                            orWithin(driftPercent, usual.driftPercent(), "drift", "%", 100),
                            orWithin(snrDb, usual.snrDb(), "signal over noise", "dB", HIGHEST_DB),
                            orWithin(seconds, usual.seconds(), "length of the sound", "s", LONGEST_SECONDS)),
                    new PlanRequest.Resistors(
                            series == null ? resistors.series() : series,
                            resistors(),
                            orWithin(
                                    tolerancePercent,
                                    resistors.tolerancePercent(),
                                    "tolerance of the resistors",
                                    "%",
                                    100),
                            minimumLoadOhm),
                    wantedPercent);
        }

        private List<Double> resistors() throws BadInputException {
            for (Double ohm : stock == null ? List.<Double>of() : stock) {
                within(ohm == null ? Double.NaN : ohm, "resistor of the drawer", "Ω", HIGHEST_OHM);
            }
            return stock == null ? List.of() : stock;
        }

        private static double orWithin(
                @Nullable Double given, double otherwise, String what, String unit, double highest)
                throws BadInputException {
            return given == null ? otherwise : within(given, what, unit, highest);
        }

        private static double within(double value, String what, String unit, double highest) throws BadInputException {
            if (!(value >= 0 && value <= highest)) {
                throw new BadInputException(String.format(
                        Locale.ROOT, "the %s is %s %s; give 0 to %.0f %s", what, value, unit, highest, unit));
            }
            Permitted permitted = Permitted.ofUnit(unit);
            if (value != 0 && permitted != null && !permitted.holds(value)) {
                throw new BadInputException(
                        "the " + what + " is " + value + " " + unit + "; give 0 or a number from " + permitted.words());
            }
            return value;
        }
    }
}
