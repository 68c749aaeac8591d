package ohmprint.dsp;

import be.tarsos.dsp.AudioEvent;
import be.tarsos.dsp.AudioProcessor;
import java.util.Arrays;

/** Peak, mean square, direct component and short-time power of a stream of blocks, in bounded memory. */
public final class LevelMeter implements AudioProcessor {
    private static final double BLOCK_SECONDS = 0.01;
    private static final int MOST_BLOCKS = 1 << 16;

    private final double sampleRate;
    private double[] sums = new double[1024];
    private double[] squares = new double[1024];
    private int blocks;
    private int blockFrames;
    private int inBlock;
    private double blockSum;
    private double blockSquares;
    private long frames;
    private double totalSum;
    private double totalSquares;
    private float peak;
    private long peakFrame = -1;
    private long leadingZeros = -1;

    LevelMeter(double sampleRate) {
        this.sampleRate = sampleRate;
        this.blockFrames = (int) Math.max(1, Math.round(BLOCK_SECONDS * sampleRate));
    }

    @Override
    public boolean process(AudioEvent event) {
        float[] x = event.getFloatBuffer();
        findPeak(x);
        int i = 0;
        while (i < x.length) {
            int until = Math.min(x.length, i + blockFrames - inBlock);
            inBlock += until - i;
            double sum = 0;
            double otherSum = 0;
            double square = 0;
            double otherSquare = 0;
            // Two sums at a time: each addition would otherwise wait for the one before it.
            for (; i < until - 1; i += 2) {
                double v = x[i];
                double w = x[i + 1];
                sum += v;
                otherSum += w;
                square += v * v;
                otherSquare += w * w;
            }
            if (i < until) {
                double v = x[i++];
                sum += v;
                square += v * v;
            }
            sum += otherSum;
            square += otherSquare;
            blockSum += sum;
            blockSquares += square;
            if (inBlock == blockFrames) {
                closeBlock();
            }
        }
        frames += x.length;
        return true;
    }

    private void findPeak(float[] x) {
        float highest = peak;
        for (int i = 0; i < x.length; i++) {
            if (Math.abs(x[i]) > highest) {
                if (highest == 0) {
                    leadingZeros = frames + i;
                }
                highest = Math.abs(x[i]);
                peakFrame = frames + i;
            }
        }
        peak = highest;
    }

    private void closeBlock() {
        if (blocks == MOST_BLOCKS) {
            for (int b = 0; b < blocks / 2; b++) {
                sums[b] = sums[2 * b] + sums[2 * b + 1];
                squares[b] = squares[2 * b] + squares[2 * b + 1];
            }
            blocks /= 2;
            blockFrames *= 2;
            return;
        }
        if (blocks == sums.length) {
            sums = Arrays.copyOf(sums, 2 * blocks);
            squares = Arrays.copyOf(squares, 2 * blocks);
        }
        sums[blocks] = blockSum;
        squares[blocks] = blockSquares;
        blocks++;
        totalSum += blockSum;
        totalSquares += blockSquares;
        blockSum = 0;
        blockSquares = 0;
        inBlock = 0;
    }

    @Override
    public void processingFinished() {
        totalSum += blockSum;
        totalSquares += blockSquares;
    }

    long frames() {
        return frames;
    }

    double peak() {
        return peak;
    }

    long peakFrame() {
        return peakFrame;
    }

    /** How many frames from the start on are zero. */
    long leadingZeros() {
        return leadingZeros < 0 ? frames : leadingZeros;
    }

    double rms() {
        return frames == 0 ? 0 : Math.sqrt(totalSquares / frames);
    }

    double offset() {
        return frames == 0 ? 0 : totalSum / frames;
    }

    /** Power per block about the direct component of the whole take; a last block that is not full is left out. */
    LevelEnvelope envelope() {
        return new LevelEnvelope(powerAbout(offset()), blockFrames, sampleRate);
    }

    int blocks() {
        return blocks;
    }

    int blockFrames() {
        return blockFrames;
    }

    double blockSeconds() {
        return blockFrames / sampleRate;
    }

    /** Mean square per block about a given direct component. */
    double[] powerAbout(double dc) {
        double[] power = new double[blocks];
        for (int b = 0; b < blocks; b++) {
            double mean = sums[b] / blockFrames;
            power[b] = Math.max(0, squares[b] / blockFrames - 2 * dc * mean + dc * dc);
        }
        return power;
    }

    /** Direct component of a stretch of blocks. */
    double offset(int from, int to) {
        double sum = 0;
        for (int b = from; b < to; b++) {
            sum += sums[b];
        }
        return to > from ? sum / blockFrames / (to - from) : 0;
    }

    /** Level of a stretch of blocks about its own direct component in dBFS; NaN when it is empty. */
    double levelDbfs(int from, int to) {
        double dc = offset(from, to);
        double square = 0;
        for (int b = from; b < to; b++) {
            square += squares[b];
        }
        return to > from ? 10 * Math.log10(Math.max(0, square / blockFrames / (to - from) - dc * dc)) : Double.NaN;
    }

    /**
     * Short-time level of one channel: the root mean square, without the take's own direct component, in equal blocks.
     *
     * <p>Levels are {@code 10·log₁₀(mean square)} relative to full scale 1: a sine that just reaches full scale reads −3.01 dB.
     * Blocks last 10 ms; in takes longer than about eleven minutes they are merged in pairs until they are few enough.
     */
    public static final class LevelEnvelope {
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
}
