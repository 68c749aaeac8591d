package ohmprint.audiofile;

import ohmprint.dsp.SampleSource;

/** How {@link WavWriter} stores a sample. */
public enum WavEncoding {
    /** Integers of 8 bits, unsigned as WAV has them. */
    PCM_8(1, false),

    /** Integers of 16 bits. */
    PCM_16(2, false),

    /** Integers of 24 bits, packed. */
    PCM_24(3, false),

    /** Integers of 32 bits. */
    PCM_32(4, false),

    /** IEEE 754 floats of 32 bits. */
    FLOAT_32(4, true),

    /** IEEE 754 floats of 64 bits. */
    FLOAT_64(8, true);

    private final int bytes;
    private final boolean floating;

    WavEncoding(int bytes, boolean floating) {
        this.bytes = bytes;
        this.floating = floating;
    }

    /**
     * The least encoding that holds every sample of a file as it is: its own, or the next wider one.
     *
     * @param source a file opened by {@link AudioFiles#open}
     * @throws IllegalArgumentException if it is another source, which has no samples of a stated width
     */
    public static WavEncoding holding(SampleSource source) {
        if (source instanceof PcmReader reader) {
            return reader.floating() ? (reader.bits() > 32 ? FLOAT_64 : FLOAT_32) : ofIntegers(reader.bits());
        }
        if (source instanceof FlacReader reader) {
            return ofIntegers(reader.bits());
        }
        throw new IllegalArgumentException("only an opened sound file has a width of samples; open it first");
    }

    private static WavEncoding ofIntegers(int bits) {
        if (bits <= 8) {
            return PCM_8;
        }
        return bits <= 16 ? PCM_16 : bits <= 24 ? PCM_24 : PCM_32;
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
