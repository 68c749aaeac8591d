package ohmprint.signal;

import java.util.Arrays;

/**
 * Short-time level of one channel: the root mean square, without the take's own direct component, in equal blocks.
 *
 * <p>Levels are {@code 10·log₁₀(mean square)} relative to full scale 1: a sine that just reaches full scale reads −3.01 dB.
 * Blocks last 10 ms; in takes longer than about eleven minutes they are merged in pairs until they are few enough.
 */
public final class LevelEnvelope {
    private final double[] power;
    private final int blockFrames;
    private final double sampleRate;

    LevelEnvelope(double[] power, int blockFrames, double sampleRate) {
        this.power = power.clone();
        this.blockFrames = blockFrames;
        this.sampleRate = sampleRate;
    }

    /** Number of blocks. */
    public int size() {
        return power.length;
    }

    /** Frames in a block. */
    public int blockFrames() {
        return blockFrames;
    }

    /** Duration of a block in seconds. */
    public double blockSeconds() {
        return blockFrames / sampleRate;
    }

    /** Level of block {@code i} in dBFS (mean square); −∞ for digital silence. */
    public double levelDbfs(int i) {
        return 10 * Math.log10(power[i]);
    }

    /** All levels in dBFS; a fresh array of length {@link #size()}. */
    public double[] levelsDbfs() {
        double[] levels = new double[power.length];
        Arrays.setAll(levels, this::levelDbfs);
        return levels;
    }

    /**
     * Level over a stretch of blocks in dBFS (mean square).
     *
     * @param from first block
     * @param to one past the last block
     * @return NaN when the stretch is empty
     */
    public double levelDbfs(int from, int to) {
        double sum = 0;
        for (int i = from; i < to; i++) {
            sum += power[i];
        }
        return to > from ? 10 * Math.log10(sum / (to - from)) : Double.NaN;
    }
}
