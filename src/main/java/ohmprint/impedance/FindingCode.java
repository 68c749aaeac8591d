package ohmprint.impedance;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Kinds of evidence about the takes that a user must hear of: how much each weighs, and what a measurement says of it and of
 * its remedy.
 */
public enum FindingCode {
    /** Flat tops at or below full scale. */
    CLIPPED(Severity.FATAL),
    /** Too little signal above the noise in part of the range. */
    LOW_SNR(Severity.NOTE),
    /** Mains hum or another steady tone. */
    HUM(Severity.ASIDE),
    /** Samples missing or zeroed inside the signal. */
    DROPOUT(Severity.FATAL),
    /** The level changed between takes. */
    LEVEL_DRIFT(Severity.NOTE),
    /** A load does not have the value that was entered. */
    LOAD_MISMATCH(Severity.DOUBT),
    /** Takes do not hold the sound that they were said to hold. */
    NOT_COHERENT(Severity.DOUBT),
    /** Delay between takes is not what one clock gives. */
    TIMING(Severity.DOUBT),
    /** Playback and recording were on two clocks; what it does to the takes has been taken out. */
    CLOCK_SKEW(Severity.NOTE),
    /** An automatic level control changed the gain within a take. */
    GAIN_RIDING(Severity.DOUBT),
    /** What is measured depends on the level. */
    NONLINEAR(Severity.DOUBT),
    /** A resistance below zero beyond its uncertainty: evidence against the session. */
    NEGATIVE_RESISTANCE(Severity.DOUBT),
    /** The recording input was not stated. */
    INPUT_UNKNOWN(Severity.DOUBT),
    /** A load below what the maker allows. */
    RATED_LOAD(Severity.NOTE),
    /** Something about the sample rate. */
    SAMPLE_RATE(Severity.NOTE),
    /** Takes contradict each other or what was entered, and none alone explains it. */
    INCONSISTENT(Severity.DOUBT),
    /** The path of the sound changed between takes: something moved, or the air warmed. */
    MOVED(Severity.DOUBT),
    /** Something disturbed a take: a contact, an automatic control, another sound. */
    DISTURBED(Severity.DOUBT);

    private final Severity severity;

    FindingCode(Severity severity) {
        this.severity = severity;
    }

    /** What a finding does to a measurement, the most serious first. */
    public enum Severity {
        /** No curve can rest on the take. */
        FATAL,
        /** A curve can be had, but something should be looked at first. */
        DOUBT,
        /** Worth knowing; the stated uncertainty holds. */
        NOTE,
        /** The same, and the last thing to be told. */
        ASIDE
    }

    /** What it does to a measurement. */
    public Severity severity() {
        return severity;
    }

    /** Whether a take that shows it while one is recording is recorded again at once. */
    public boolean spoilsTake() {
        return switch (this) {
            case CLIPPED, DROPOUT, NOT_COHERENT, LOAD_MISMATCH -> true;
            default -> false;
        };
    }

    /** The code used in files: lower case with hyphens. */
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /**
     * What a measurement or a recorder says of each kind: the evidence with its values and units, then the next step. {@code %s} and the like
     * stand for values, as {@link java.util.Formatter} has them.
     */
    public enum Wording {
        /** Words of the clipping; where, or nothing. */
        FLAT_TOPS(CLIPPED, "%s%s; lower the level and record it again"),

        /** Milliseconds; second of the first one. */
        STANDS_STILL(DROPOUT, "stands still for %.1f ms in all, first at %.3f s; record it again with a larger buffer"),
        /** Seconds; second of the sound that was played. */
        FELL_STILL(
                DROPOUT,
                "stands still for %.1f s from %.1f s of the sound on; check device and cables, and record it again"),
        /** Second of the sound; milliseconds; later or earlier. */
        DISPLACED(
                DROPOUT,
                "from about %.1f s on the sound comes %.0f ms %s than before: playing or recording was interrupted; close"
                        + " other programs and record it again"),
        /** Milliseconds; what the samples say to it, or nothing. */
        CAME_LATE(
                DROPOUT,
                "about %.0f ms of the recording may be missing, by the times at which it came%s; close other programs and"
                        + " record it again"),
        /** What the samples say to it, or nothing. */
        PLAYED_LATE(
                DROPOUT,
                "the computer may have been too busy to play without a gap%s; close other programs and record it again"),

        /** Nothing but zeros. */
        SILENT(LOW_SNR, "is silent; check the channel and the cable and record it again"),
        /** Peak in dBFS; decibels to raise. */
        QUIET(LOW_SNR, "peaks at %.1f dBFS only; raise the gain by about %.0f dB and record it again"),
        /** Decibels. */
        FAINT(LOW_SNR, "stands only %.0f dB above the noise; play louder, come closer, or find what makes noise"),
        /** A take that is too short. */
        CUT_OFF(LOW_SNR, "ends before the sound has died away; give a longer tail or stop what still sounds"),
        /** Subject and verb. */
        NO_LEAD_IN(
                LOW_SNR,
                "%s no silent lead-in of 0.3 s or more, so the noise is judged by the scatter alone; leave half a second of"
                        + " silence before the sound"),
        /** Frequencies. */
        WEAK_BANDS(
                LOW_SNR,
                "less than 20 dB above the noise at %s; play louder, come closer or use a longer sweep if these frequencies"
                        + " matter"),
        /** Frequencies. */
        EMPTY_BANDS(LOW_SNR, "no value at %s: the takes hold too little there, or too much of something else"),

        /** Level in dBFS; frequencies. */
        TONES(
                HUM,
                "hum at %.0f dBFS (%s); what lies next to it weighs little: move microphone and cable away from transformers"),

        /** Words for the load before its value; ohms of the load; ohms that are allowed. */
        BELOW_RATED_LOAD(
                RATED_LOAD,
                "%sload of %.0f Ω is below the %.0f Ω that the maker allows; damping and distortion may differ from normal"
                        + " use"),

        /** Sample rate in hertz; kilohertz. */
        LOW_SAMPLE_RATE(
                SAMPLE_RATE,
                "takes at %.0f Hz hold nothing above %.1f kHz; record at 48 kHz or more for the whole range"),

        /** Of a microphone. */
        UNKNOWN_INPUT(
                INPUT_UNKNOWN,
                "the recording input is not known, so the curve is that of the microphone in parallel with it; state"
                        + " resistance_ohm and capacitance_pf under input"),
        /** Of an input. */
        UNKNOWN_GENERATOR(
                INPUT_UNKNOWN,
                "the generator's output impedance is not known, so the curve is that of the input in series with it; state"
                        + " resistance_ohm under generator"),

        /** A take that was just recorded. */
        NOT_WHAT_WAS_PLAYED(
                NOT_COHERENT,
                "does not hold the sound that was played; check loudspeaker, cables and channel, and record it again"),
        /** Name of the stimulus. */
        ANOTHER_STIMULUS(NOT_COHERENT, "%s is not what this take holds; name the file that was played, or none"),
        /** Name of the stimulus. */
        NO_COMMON_STIMULUS(
                NOT_COHERENT,
                "%s cannot be what all takes hold, for they do not share a sound; check channels and cables, or name no"
                        + " stimulus file"),
        /** A take among others. */
        ANOTHER_SOUND(
                NOT_COHERENT,
                "does not hold the sound of the other takes and is left out; record it again with the same sound"),
        /** Median coherence. */
        ANOTHER_REFERENCE(
                NOT_COHERENT,
                "microphone and reference channel share little (median coherence %.2f); check that both hear the"
                        + " loudspeaker"),

        /** A take that cannot be aligned. */
        LITTLE_IN_COMMON(
                TIMING,
                "shares too little sound with the other takes to be aligned with them; record each take whole, from before"
                        + " the sound until after it"),
        /** Samples; their uncertainty. */
        FRACTION_OF_SAMPLE(
                TIMING,
                "its delay is %.3f ± %.3f samples off a whole number, so playback and recording did not share one clock; the"
                        + " phase at high frequencies is uncertain: play and record with one interface, or take three"
                        + " different loads, which tell the delay"),

        /** Parts per million of each take; words on the delays, or nothing. */
        RESAMPLED(
                CLOCK_SKEW,
                "the recorder's clock is off the player's by %s ppm in the takes in turn; they have been resampled%s: one"
                        + " interface for both needs no correction"),
        /** File; parts per million of each take; words on the delays, or nothing. */
        TWO_CLOCKS(
                CLOCK_SKEW,
                "the delays between takes are no whole samples, so playback and recording were on two clocks; against %s the"
                        + " takes run at %s ppm, which has been taken out%s: one interface for both needs no correction"),

        /** Decibels. */
        BACKGROUND_FELL(
                GAIN_RIDING,
                "its background noise fell by %.1f dB while the sound lasted, as an automatic level control turns down the"
                        + " gain: levels through different loads cannot be compared; switch the automatic level off, set the"
                        + " gain by hand and record all takes again"),
        /** Decibels; what it is compared with. */
        LOUDER_START(
                GAIN_RIDING,
                "it starts %.1f dB higher than it goes on, compared with %s, as an automatic level control turns down the"
                        + " gain: levels through different loads cannot be compared; switch the automatic level off, set the"
                        + " gain by hand and record all takes again"),

        /** Decibels. */
        SOURCE_DRIFT(
                LEVEL_DRIFT,
                "the source was %+.2f dB against the first take, by the reference channel; it has been taken out"),
        /** Decibels; file. */
        WARMS_UP(LEVEL_DRIFT, "is %+.2f dB against %s with the same load; let the equipment warm up and touch nothing"),
        /** Decibels; file. */
        STEADY_DRIFT(
                LEVEL_DRIFT,
                "is %+.3f dB against %s with the same load; a steady drift has been taken out: let the equipment warm up and"
                        + " touch nothing between takes"),
        /** Decibels; file. */
        ANOTHER_LEVEL(
                LEVEL_DRIFT,
                "is %+.1f dB against %s with the same load, so it counts as another level: it is compared, and left out of"
                        + " the curve"),
        /** Decibels. */
        LEVEL_OF_ONE_TAKE(
                LEVEL_DRIFT,
                "its level is %+.2f dB off what the other takes ask for; it is left out of the curve: keep source, microphone"
                        + " and gain untouched between takes and record it again"),

        /** Decibels; file. */
        ANOTHER_REPEATED_LOAD(
                LOAD_MISMATCH,
                "is %+.2f dB against %s with the same load: one of the two had another resistor, or the gain or a position"
                        + " changed between; check all of it, then record it again"),
        /** Decibels; file; label of its load; label of this one; decibels; ohms. */
        UNLIKELY_STEP(
                LOAD_MISMATCH,
                "is %+.2f dB against %s; from %s to %s about %+.1f dB are expected of %s Ω. A resistor of either take, the"
                        + " gain or a position can be the cause: check that both resistors were connected and are what they"
                        + " should be and that nothing was touched, then record it again"),
        /** Numbers of takes; by how much, or nothing; what would make them agree, or nothing; how many. */
        CONTRADICTING_TAKES(
                LOAD_MISMATCH,
                "takes %s contradict each other%s; these takes cannot show which one is wrong%s: check all %s resistors, and"
                        + " that gain and positions did not change"),
        /** Words for the take; label of its load; how many others; what would fit; words for what to record. */
        CONTRADICTS_OTHERS(
                LOAD_MISMATCH,
                "%s, entered with %s, contradicts the other %s, which agree; %s, or gain or position changed in it: check the"
                        + " resistor and record %s again"),
        /** Label of the load; label of one that fits. */
        LOAD_OF_ONE_TAKE(
                LOAD_MISMATCH,
                "entered as %s, but %s would fit the other takes; it is left out of the curve: check the resistor, correct"
                        + " session.yaml and measure again"),
        /** Share of the signal; load or series resistor, twice. */
        LOAD_OF_SOME_TAKE(
                LOAD_MISMATCH,
                "takes are inconsistent: residual %s of the signal; a %s or a level is not as entered, or something moved"
                        + " between takes; add a fourth %s to identify it"),

        /** Third harmonic of the take and of the cleanest one, percent; decibels. */
        SATURATED(
                NONLINEAR,
                "its third harmonic is %.2f %%, that of the cleanest take %.2f %%: it is driven into saturation and reads"
                        + " about %.2f dB low; lower the level and record all takes again"),
        /** File at this level; decibels; higher or lower; two files of another level; percent; hertz; percent. */
        ANOTHER_IMPEDANCE(
                NONLINEAR,
                "with %s, %.1f dB %s, it gives another |Z| than %s and %s: %+.1f %% at %.0f Hz, %.1f %% in the median;"
                        + " something in the chain is not linear: go on lowering the level until the curve stays"),
        /** File; decibels; hertz. */
        ANOTHER_SHAPE(
                NONLINEAR,
                "is not %s at another level: %+.2f dB at %.0f Hz against the other frequencies; loudspeaker, microphone or"
                        + " preamplifier is not linear: lower the level and record both again"),

        /** Frequencies. */
        BELOW_ZERO(
                NEGATIVE_RESISTANCE,
                "the resistance comes out below zero at %s, which no passive source has; check loads, channels and the order"
                        + " of the takes"),

        /** What contradicts what and where; all takes; by how much, or nothing; load or series resistor. */
        NO_CURVE(
                INCONSISTENT,
                "%s (%s)%s, so no curve can rest on them: check the %ss of all these takes and their gain, correct"
                        + " session.yaml and measure again, or record them again with nothing else touched"),
        /** The same. */
        ERRORS_AS_ENTERED(
                INCONSISTENT,
                "%s (%s)%s; errors common to all bands are carried as entered: check %ss and gain, and whether anything moved"
                        + " or disturbed a take; record again if in doubt"),

        /** Which ratio; frequencies; percent; what to record. */
        PATH_CHANGED(
                MOVED,
                "%s is not smooth from %s (residual up to %s %% of the amplitude, growing with frequency), which no wrong load or gain causes:"
                        + " the microphone, the loudspeaker or something near them moved, or the air warmed; %s with nothing"
                        + " else touched"),
        /** The same. */
        ROUGH_RATIO(
                DISTURBED,
                "%s is not smooth from %s (residual up to %s %% of the amplitude), which no wrong load or gain causes: a contact opened, an"
                        + " automatic control changed the level, or one take contains another sound; check plugs and controls"
                        + " and %s");

        private final FindingCode code;
        private final String text;

        Wording(FindingCode code, String text) {
            this.code = code;
            this.text = text;
        }

        /**
         * Says it.
         *
         * @param take file name of the take concerned, or null when it concerns the session
         * @param values what the comment of the constant names, in its order
         */
        public Finding of(@Nullable String take, Object... values) {
            return new Finding(code, take, String.format(Locale.ROOT, text, values));
        }
    }
}
