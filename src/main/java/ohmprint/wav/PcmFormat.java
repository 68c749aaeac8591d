package ohmprint.wav;

/**
 * How the frames of a file are laid out.
 *
 * @param channels samples per frame, at least 1
 * @param sampleRate frames per second, in hertz, positive
 * @param sampleBytes bytes per sample: 1 to 4 for integers, 4 or 8 for floats
 * @param validBits bits of a sample that carry sound, at most {@code 8·sampleBytes}
 * @param floating whether samples are IEEE 754 floats
 * @param blockAlign bytes per frame, at least {@code channels·sampleBytes}
 */
record PcmFormat(int channels, double sampleRate, int sampleBytes, int validBits, boolean floating, int blockAlign) {
    /**
     * Whether the samples might as well sit in 32-bit containers: the spare bytes of a frame are as many as would widen
     * every sample to 4 bytes.
     */
    boolean couldBeWidened() {
        return sampleBytes < 4 && blockAlign == 4 * channels;
    }
}
