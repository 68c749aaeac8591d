package ohmprint.app.audition;

import java.nio.file.Path;
import ohmprint.circuit.Divider;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * Which take is to be heard into which load.
 *
 * @param take the recording
 * @param curve impedance of its microphone, named as for {@link ohmprint.app.NamedCurve#of}
 * @param from what the take was recorded through
 * @param to what it shall be heard through
 * @param channel the channel to render, counted from 1, or null for all; others pass as they are
 * @param levelMatched whether the result gets the level of the take, so that only its sound differs
 * @param out file for the result
 * @param comparison file for the short comparison, or null for none
 */
public record AuditionRequest(
        Path take,
        String curve,
        Side from,
        Side to,
        @Nullable Integer channel,
        boolean levelMatched,
        Path out,
        @Nullable Path comparison) {
    /**
     * What lies across the microphone.
     *
     * @param load the load resistor, or open
     * @param inputOhm resistance of the input beside it in ohms; null only with a curve that already holds the input
     * @param inputPf capacitance of that input with the cable in picofarads, 0 when left out
     */
    public record Side(Load load, @Nullable Double inputOhm, double inputPf) {
        /**
         * The same with the load as a number.
         *
         * @param loadOhm the load resistor in ohms, positive infinity for open
         */
        public static Side of(double loadOhm, @Nullable Double inputOhm, double inputPf) {
            return new Side(Double.isInfinite(loadOhm) ? Load.open() : Load.ofOhms(loadOhm, 0), inputOhm, inputPf);
        }

        /** All that lies across the microphone beside what the curve holds, in siemens. */
        Complex admittance(double hz) {
            return Divider.admittance(load, input(), hz);
        }

        private InputImpedance input() {
            return inputOhm == null
                    ? InputImpedance.unknownResistance(inputPf, 0)
                    : InputImpedance.ofOhms(inputOhm, 0, inputPf, 0);
        }
    }
}
