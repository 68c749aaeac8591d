package ohmprint.audio;

/** Which way sound goes. */
public enum Direction {
    /** From the device to the program. */
    RECORDING,
    /** From the program to the device. */
    PLAYBACK
}
