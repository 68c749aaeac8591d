package ohmprint.dsp;

import be.tarsos.dsp.AudioEvent;
import be.tarsos.dsp.AudioProcessor;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.OptionalLong;
import org.jspecify.annotations.Nullable;

/**
 * One pass over a take: level, clipping, dropouts and the ends of the sound in the microphone's channel and, where there is
 * one, the reference channel; and the background of the microphone's.
 *
 * <p>TarsosDSP's dispatcher reads the take block by block and hands each block to one {@link AudioProcessor} after the
 * other. Memory is bounded whatever the length. Samples pass as 32-bit floats; the package comment says what that does to
 * them.
 */
public final class TakeAnalyzer {
    private static final int BLOCK = 4096;
    /** Frames of a take whose background is looked at block by block; of longer takes, one block in so many. */
    private static final long LOOKED_AT_CLOSELY = 1 << 20;

    private final TakeIndicators indicators;
    private final @Nullable TakeIndicators reference;
    private final long leadingZeros;
    private final NoiseModulationMeter background;

    private TakeAnalyzer(Channel own, @Nullable Channel other, NoiseModulationMeter background) {
        this.indicators = own.indicators();
        this.reference = other == null ? null : other.indicators();
        this.leadingZeros = own.level.leadingZeros();
        this.background = background;
    }

    /**
     * Scans a source from where it stands to its end.
     *
     * @param source the take; not closed
     * @param channel channel of the microphone, from 0
     * @param reference channel, from 0, that hears the source but not the load; −1 when there is none
     * @throws IndexOutOfBoundsException if the source has no such channel
     * @throws IOException if the source cannot be read
     */
    public static TakeAnalyzer of(SampleSource source, int channel, int reference) throws IOException {
        Objects.checkIndex(channel, source.channels());
        double rate = source.sampleRate();
        NoiseModulationMeter background =
                new NoiseModulationMeter(rate, (int) (1 + source.frames() / LOOKED_AT_CLOSELY));
        Channel own = new Channel(rate);
        Channel other = reference < 0 ? null : new Channel(rate);
        TakeStream stream = new TakeStream(source, channel);
        List<AudioProcessor> processors = new ArrayList<>(own.processors);
        processors.add(new Unrounded(stream, background));
        if (other != null) {
            Objects.checkIndex(reference, source.channels());
            processors.add(new Beside(stream, reference, other.processors));
        }
        stream.passThrough(processors);
        return new TakeAnalyzer(own, other, background);
    }

    /** What the microphone's channel shows. */
    public TakeIndicators indicators() {
        return indicators;
    }

    /** What the reference channel shows; null when there is none. */
    public @Nullable TakeIndicators reference() {
        return reference;
    }

    /** Frames from the start of the microphone's channel that are zero; all of them when it is silent. */
    public long leadingZeros() {
        return leadingZeros;
    }

    /**
     * The deepest drop of the background below the lead-in, see {@link NoiseModulationMeter#dropDb}.
     *
     * @param fromFrame first frame of the background
     * @param leadInFrames frame up to which there is nothing but background
     */
    public double backgroundDropDb(long fromFrame, long leadInFrames) {
        return background.dropDb(fromFrame, leadInFrames);
    }

    /** The microphone's channel for the dispatcher; the other channels of the block that was read last stay at hand. */
    private static final class TakeStream extends SampleStream {
        private final SampleSource source;
        private final int channel;
        private final double[][] block;

        TakeStream(SampleSource source, int channel) {
            super(source.sampleRate(), BLOCK);
            this.source = source;
            this.channel = channel;
            this.block = new double[source.channels()][BLOCK];
        }

        @Override
        int next(float[] into, int count) throws IOException {
            int got = 0;
            for (int n = 1; n > 0 && got < count; got += n) {
                n = source.read(block, got, count - got);
            }
            copy(channel, into, got);
            return got;
        }

        private void copy(int which, float[] into, int count) {
            double[] from = block[which];
            for (int i = 0; i < count; i++) {
                into[i] = (float) from[i];
            }
        }
    }

    /** Hands the same block to the meter of the background as it was read, because floats are too coarse for that. */
    private static final class Unrounded implements AudioProcessor {
        private final TakeStream stream;
        private final NoiseModulationMeter background;

        Unrounded(TakeStream stream, NoiseModulationMeter background) {
            this.stream = stream;
            this.background = background;
        }

        @Override
        public boolean process(AudioEvent event) {
            background.accept(stream.block[stream.channel], 0, event.getBufferSize());
            return true;
        }

        @Override
        public void processingFinished() {}
    }

    /** Passes another channel of the same block through processors of its own. */
    private static final class Beside implements AudioProcessor {
        private final TakeStream stream;
        private final int channel;
        private final List<AudioProcessor> processors;
        private final AudioEvent event;
        private float[] samples = new float[BLOCK];

        Beside(TakeStream stream, int channel, List<AudioProcessor> processors) {
            this.stream = stream;
            this.channel = channel;
            this.processors = processors;
            this.event = new AudioEvent(stream.getFormat());
        }

        @Override
        public boolean process(AudioEvent own) {
            int count = own.getBufferSize();
            if (count != samples.length) {
                samples = new float[count];
            }
            stream.copy(channel, samples, count);
            event.setFloatBuffer(samples);
            processors.forEach(p -> p.process(event));
            return true;
        }

        @Override
        public void processingFinished() {
            processors.forEach(AudioProcessor::processingFinished);
        }
    }

    /** What is looked for in one channel. */
    private static final class Channel {
        private final double sampleRate;
        private final LevelMeter level;
        private final Dropout.Detector held;
        private final Clipping.Detector positive;
        private final Clipping.Detector negative;
        private final List<AudioProcessor> processors;

        Channel(double sampleRate) {
            this.sampleRate = sampleRate;
            this.level = new LevelMeter(sampleRate);
            this.held = new Dropout.Detector(sampleRate);
            this.positive = new Clipping.Detector(true, held);
            this.negative = new Clipping.Detector(false, held);
            this.processors = List.of(level, held, positive, negative);
        }

        TakeIndicators indicators() {
            int first = ActivityDetector.firstBlock(level);
            int end = ActivityDetector.endBlock(level);
            long onsetFrame = first < 0 ? 0 : (long) first * level.blockFrames();
            long endFrame = end < 0 ? level.frames() : (long) end * level.blockFrames();
            return new TakeIndicators(
                    level.frames(),
                    sampleRate,
                    level.peak(),
                    level.peakFrame(),
                    level.rms(),
                    level.offset(),
                    Clipping.of(positive, negative, sampleRate),
                    held.within(onsetFrame, endFrame),
                    first < 0 ? OptionalLong.empty() : OptionalLong.of(onsetFrame),
                    end < 0 ? OptionalLong.empty() : OptionalLong.of(endFrame),
                    first < 0 ? Double.NaN : level.levelDbfs(0, first),
                    end < 0 ? Double.NaN : level.levelDbfs(end, level.blocks()),
                    level.envelope());
        }
    }
}
