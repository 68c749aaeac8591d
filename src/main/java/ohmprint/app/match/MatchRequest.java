package ohmprint.app.match;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import ohmprint.circuit.InputNoise;
import org.jspecify.annotations.Nullable;

/**
 * What a curve is to be matched with.
 *
 * @param curve the curve, named as for {@link ohmprint.app.NamedCurve#of}
 * @param range which frequencies
 * @param loads inputs stated by value
 * @param inputCurves files of measured input curves
 * @param inputs file that lists a workshop's inputs, or null
 * @param line what lies between microphone and each input
 * @param sound how sensitive the microphone is and what it hears, or null when levels are not asked for
 * @param preamplifier the electronics behind the inputs of {@code loads} and {@code inputCurves}
 * @param booster a booster in front of all inputs, or null
 * @param celsius temperature in °C
 * @param out folder for tables and pictures, or null for none
 * @param dark whether pictures are for a dim room
 */
public record MatchRequest(
        String curve,
        Range range,
        List<Load> loads,
        List<Path> inputCurves,
        @Nullable Path inputs,
        Line line,
        @Nullable Sound sound,
        Electronics preamplifier,
        @Nullable Booster booster,
        double celsius,
        @Nullable Path out,
        boolean dark) {
    /** Room temperature in °C. */
    public static final double ROOM_CELSIUS = 20;

    /** Copies the lists. */
    public MatchRequest {
        loads = List.copyOf(loads);
        inputCurves = List.copyOf(inputCurves);
    }

    /** A curve with some resistances in ohms, everything else left to the program. */
    public static MatchRequest of(String curve, double... ohms) {
        List<Load> loads = Arrays.stream(ohms).mapToObj(ohm -> new Load(ohm, 0)).toList();
        return new MatchRequest(
                curve,
                Range.AUDIBLE,
                loads,
                List.of(),
                null,
                Line.NONE,
                null,
                Electronics.UNKNOWN,
                null,
                ROOM_CELSIUS,
                null,
                false);
    }

    /** The same with what the microphone hears, or without levels when that is null. */
    public MatchRequest hearing(@Nullable Sound heard) {
        return new MatchRequest(
                curve, range, loads, inputCurves, inputs, line, heard, preamplifier, booster, celsius, out, dark);
    }

    /**
     * Which frequencies.
     *
     * @param fromHz lowest in hertz
     * @param toHz highest in hertz
     */
    public record Range(double fromHz, double toHz) {
        /** 20 Hz to 20 kHz. */
        public static final Range AUDIBLE = new Range(20, 20_000);
    }

    /**
     * An input by value, taken as exact.
     *
     * @param ohm resistance in ohms
     * @param pf capacitance across it in picofarads, 0 for none
     */
    public record Load(double ohm, double pf) {}

    /**
     * What lies between microphone and each input.
     *
     * @param cableMetres length of the cable in metres, 0 for none
     * @param cablePfPerMetre its capacitance in picofarads per metre
     * @param phantomFeeds whether the two 6.81 kΩ of a phantom supply lie across each input of {@code loads} and {@code
     *     inputCurves}, and across the variable load
     */
    public record Line(double cableMetres, double cablePfPerMetre, boolean phantomFeeds) {
        /** Neither cable nor feeds. */
        public static final Line NONE = new Line(0, 0, false);
    }

    /**
     * What the microphone makes of what it hears.
     *
     * @param sensitivityMv open-circuit sensitivity at 1 kHz in mV/Pa
     * @param toleranceDb its tolerance in decibels to either side
     * @param splDb sound pressure level of the source in decibels
     * @param targetDbu level wanted behind the preamplifier, dBu
     */
    public record Sound(double sensitivityMv, double toleranceDb, double splDb, double targetDbu) {
        /** Sound pressure level at which sensitivities are compared, dB. */
        public static final double USUAL_SPL_DB = 94;

        /** Level of a line, dBu; common practice, no source. */
        public static final double USUAL_TARGET_DBU = 4;
    }

    /**
     * An amplifier between microphone and preamplifier.
     *
     * @param ohm its input resistance in ohms, taken as exact
     * @param outputOhm its output resistance in ohms
     * @param electronics its gain, which has to be known, and noise
     */
    public record Booster(double ohm, double outputOhm, Electronics electronics) {}

    /**
     * What is known of an amplifier besides its input impedance.
     *
     * @param gainDb its greatest gain in decibels, or null
     * @param einDbu equivalent input noise in dBu, unweighted, 20 Hz to 20 kHz, or null
     * @param einSourceOhm resistor at the input that the equivalent input noise was measured with, ohms, 0 for a short; null
     *     for 150 Ω, as is usual (common practice, no source)
     * @param voltageNoiseNv voltage noise in nV/√Hz, or null
     * @param currentNoisePa current noise in pA/√Hz, or null
     */
    public record Electronics(
            @Nullable Double gainDb,
            @Nullable Double einDbu,
            @Nullable Double einSourceOhm,
            @Nullable Double voltageNoiseNv,
            @Nullable Double currentNoisePa) {
        /** Nothing is known. */
        public static final Electronics UNKNOWN = new Electronics(null, null, null, null, null);

        /** Resistor in ohms that equivalent input noise counts as measured with unless another is stated. */
        public static final double USUAL_EIN_SOURCE_OHM = 150;

        private static final double NANO = 1e-9;
        private static final double PICO = 1e-12;

        /**
         * Its noise.
         *
         * @throws IllegalArgumentException if noise is stated in two ways, or lower than physics allows
         */
        InputNoise noise(double kelvin) {
            double current = currentNoisePa == null ? 0 : currentNoisePa * PICO;
            if (einDbu != null && voltageNoiseNv != null) {
                throw new IllegalArgumentException(
                        "noise is given both as equivalent input noise and as voltage noise; keep one of the two");
            }
            if (einDbu != null) {
                return InputNoise.ofEquivalent(einDbu, einSource(), current, kelvin);
            }
            return new InputNoise(voltageNoiseNv == null ? Double.NaN : voltageNoiseNv * NANO, current);
        }

        /** The resistor that the equivalent input noise counts as measured with, in ohms. */
        private double einSource() {
            return einSourceOhm == null ? USUAL_EIN_SOURCE_OHM : einSourceOhm;
        }

        /** The equivalent input noise with the resistor that it counts as measured with, or null when it is not stated. */
        public @Nullable String einInWords() {
            if (einDbu == null) {
                return null;
            }
            double ohm = einSource();
            return String.format(Locale.ROOT, "%.1f dBu with ", einDbu)
                    + (ohm == 0 ? "a shorted input" : String.format(Locale.ROOT, "a source of %.0f Ω", ohm))
                    + (einSourceOhm == null ? " (assumed)" : "");
        }
    }
}
