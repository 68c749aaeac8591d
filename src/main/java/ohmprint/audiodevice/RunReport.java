package ohmprint.audiodevice;

/**
 * How a run went, by its times. What a busy computer does to them looks like a loss without being one, so both signs of an
 * interruption are a suspicion that the samples have to confirm.
 *
 * @param frames frames recorded
 * @param bits bits per sample of the recording line
 * @param playbackRanEmpty whether the output seemed empty at some moment inside the sound, so that silence may have been put in
 * @param lostSeconds recording that may have gone missing, by the computer's clock against the number of frames; 0 when less than
 *     30 ms, which that comparison cannot tell from jitter
 */
public record RunReport(long frames, int bits, boolean playbackRanEmpty, double lostSeconds) {}
