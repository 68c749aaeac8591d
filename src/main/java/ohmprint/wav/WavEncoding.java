package ohmprint.wav;

/** How {@link WavWriter} stores a sample. */
public enum WavEncoding {
    /** Integers of 16 bits. */
    PCM_16(2, false),

    /** Integers of 24 bits, packed. */
    PCM_24(3, false),

    /** IEEE 754 floats of 32 bits. */
    FLOAT_32(4, true);

    private final int bytes;
    private final boolean floating;

    WavEncoding(int bytes, boolean floating) {
        this.bytes = bytes;
        this.floating = floating;
    }

    /** Bytes per sample. */
    public int bytes() {
        return bytes;
    }

    /** Whether samples are floats. */
    public boolean floating() {
        return floating;
    }
}
