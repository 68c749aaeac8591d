package ohmprint.audio;

/**
 * How a run went.
 *
 * @param frames frames recorded
 * @param bits bits per sample of the recording line
 * @param playbackRanEmpty whether the output was empty at some moment inside the sound, so that silence was put in
 * @param lostSeconds recording that went missing, by the computer's clock against the number of frames; 0 when less than
 *     30 ms, which that comparison cannot tell from jitter
 */
public record RunReport(long frames, int bits, boolean playbackRanEmpty, double lostSeconds) {}
