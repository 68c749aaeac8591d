package ohmprint.signal;

/**
 * A stretch inside the sound in which every sample is the same: zeros put in, or one value held.
 *
 * @param startFrame its first frame
 * @param frames its length in frames
 */
public record Dropout(long startFrame, long frames) {}
