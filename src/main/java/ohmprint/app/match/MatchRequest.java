package ohmprint.app.match;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What a curve is to be matched with.
 *
 * @param curve the curve, named as for {@link ohmprint.app.StoredCurve#of}
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
}
