package ohmprint.curve;

import java.util.Locale;

/** Kinds of evidence about the takes that a user must hear of. */
public enum FindingCode {
    /** Flat tops at or below full scale. */
    CLIPPED,
    /** Too little signal above the noise in part of the range. */
    LOW_SNR,
    /** Mains hum or another steady tone. */
    HUM,
    /** Samples missing or zeroed inside the signal. */
    DROPOUT,
    /** The level changed between takes. */
    LEVEL_DRIFT,
    /** A load does not have the value that was entered. */
    LOAD_MISMATCH,
    /** Takes do not hold the sound that they were said to hold. */
    NOT_COHERENT,
    /** Delay between takes is not what one clock gives. */
    TIMING,
    /** Playback and recording were on two clocks; what it does to the takes has been taken out. */
    CLOCK_SKEW,
    /** An automatic level control changed the gain within a take. */
    GAIN_RIDING,
    /** What is measured depends on the level. */
    NONLINEAR,
    /** A resistance below zero beyond its uncertainty: evidence against the session. */
    NEGATIVE_RESISTANCE,
    /** The recording input was not stated. */
    INPUT_UNKNOWN,
    /** A load below what the maker allows. */
    RATED_LOAD,
    /** Something about the sample rate. */
    SAMPLE_RATE,
    /** Takes contradict each other or what was entered, and none alone explains it. */
    INCONSISTENT;

    /** The code used in files: lower case with hyphens. */
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
