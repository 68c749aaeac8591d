package ohmprint.signal;

import be.tarsos.dsp.AudioDispatcher;
import be.tarsos.dsp.AudioEvent;
import be.tarsos.dsp.AudioProcessor;
import be.tarsos.dsp.io.TarsosDSPAudioFormat;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalLong;
import org.jspecify.annotations.Nullable;

/**
 * One pass over one channel of a take: level, clipping, dropouts, where the sound begins and ends.
 *
 * <p>Either {@link #scan} reads a source by itself, or a caller that reads the file anyway hands over its blocks by
 * {@link #accept}. Memory is bounded whatever the length. Samples are taken as 32-bit floats: integers of up to 24 bits
 * pass exactly. Not safe for use by several threads.
 */
public final class TakeScan {
    private static final int BLOCK = 4096;
    private static final double LEAST_CLIPPED_MS = 0.4;

    private final double sampleRate;
    private final LevelMeter level;
    private final HeldSamples held;
    private final FlatTops positive;
    private final FlatTops negative;
    private final List<AudioProcessor> processors;
    private final AudioEvent event;
    private final float[] buffer = new float[BLOCK];
    private int filled;
    private @Nullable TakeIndicators result;

    /**
     * A scan that waits for its blocks.
     *
     * @param sampleRate in hertz
     */
    public TakeScan(double sampleRate) {
        if (!(sampleRate > 0) || Double.isInfinite(sampleRate)) {
            throw new IllegalArgumentException("sample rate " + sampleRate + " Hz is not positive");
        }
        this.sampleRate = sampleRate;
        this.level = new LevelMeter(sampleRate);
        this.held = new HeldSamples(sampleRate);
        this.positive = new FlatTops(true, held);
        this.negative = new FlatTops(false, held);
        this.processors = List.of(level, held, positive, negative);
        this.event = new AudioEvent(format(sampleRate));
    }

    /**
     * Scans one channel of a source from where it stands to its end.
     *
     * @param source the take; not closed
     * @param channelIndex the channel, from 0
     * @throws IndexOutOfBoundsException if the source has no such channel
     * @throws IOException if the source cannot be read
     */
    public static TakeIndicators scan(SampleSource source, int channelIndex) throws IOException {
        Objects.checkIndex(channelIndex, source.channels());
        TakeScan scan = new TakeScan(source.sampleRate());
        ChannelStream stream = new ChannelStream(source, channelIndex, format(source.sampleRate()));
        AudioDispatcher dispatcher = new AudioDispatcher(stream, BLOCK, 0);
        dispatcher.setZeroPadLastBuffer(false);
        dispatcher.addAudioProcessor(stream.restoringLevel());
        scan.processors.forEach(dispatcher::addAudioProcessor);
        dispatcher.run();
        stream.rethrow();
        TakeIndicators indicators = scan.gather();
        scan.result = indicators;
        return indicators;
    }

    /**
     * Takes the next samples.
     *
     * @param block samples relative to full scale
     * @param from first index
     * @param to one past the last index
     * @throws IllegalStateException after {@link #result()}
     */
    public void accept(double[] block, int from, int to) {
        Objects.checkFromToIndex(from, to, block.length);
        if (result != null) {
            throw new IllegalStateException("this scan has given its result; start a new one");
        }
        int i = from;
        while (i < to) {
            int n = Math.min(BLOCK - filled, to - i);
            for (int k = 0; k < n; k++) {
                buffer[filled + k] = (float) block[i + k];
            }
            filled += n;
            i += n;
            if (filled == BLOCK) {
                process(buffer);
                filled = 0;
            }
        }
    }

    /** The indicators of all samples taken; the scan takes no more afterwards. */
    public TakeIndicators result() {
        if (result == null) {
            if (filled > 0) {
                process(Arrays.copyOf(buffer, filled));
                filled = 0;
            }
            processors.forEach(AudioProcessor::processingFinished);
            result = gather();
        }
        return result;
    }

    private void process(float[] samples) {
        event.setFloatBuffer(samples);
        for (AudioProcessor p : processors) {
            p.process(event);
        }
    }

    private TakeIndicators gather() {
        LevelEnvelope envelope = level.envelope();
        int first = SoundingPart.firstBlock(level);
        int end = SoundingPart.endBlock(level);
        long onsetFrame = first < 0 ? 0 : (long) first * level.blockFrames();
        long endFrame = end < 0 ? level.frames() : (long) end * level.blockFrames();
        List<Dropout> dropouts = new ArrayList<>();
        for (long[] d : held.found()) {
            if (d[0] >= onsetFrame && d[0] + d[1] <= endFrame) {
                dropouts.add(new Dropout(d[0], d[1]));
            }
        }
        return new TakeIndicators(
                level.frames(),
                sampleRate,
                level.peak(),
                level.peakFrame(),
                level.rms(),
                level.offset(),
                clipping(),
                dropouts,
                first < 0 ? OptionalLong.empty() : OptionalLong.of(onsetFrame),
                end < 0 ? OptionalLong.empty() : OptionalLong.of(endFrame),
                first < 0 ? Double.NaN : level.levelDbfs(0, first),
                end < 0 ? Double.NaN : level.levelDbfs(end, level.blocks()),
                envelope);
    }

    private Optional<Clipping> clipping() {
        FlatTops.@Nullable FlatLevel up = positive.found();
        FlatTops.@Nullable FlatLevel down = negative.found();
        if (up == null && down == null) {
            return Optional.empty();
        }
        long samples = (up == null ? 0 : up.samples()) + (down == null ? 0 : down.samples());
        double ms = 1000 * samples / sampleRate;
        if (ms < LEAST_CLIPPED_MS) {
            return Optional.empty();
        }
        double flat = Math.max(up == null ? 0 : up.level(), down == null ? 0 : down.level());
        long first = Math.min(
                up == null ? Long.MAX_VALUE : up.firstFrame(), down == null ? Long.MAX_VALUE : down.firstFrame());
        Clipping.Polarity polarity = up == null
                ? Clipping.Polarity.NEGATIVE
                : down == null ? Clipping.Polarity.POSITIVE : Clipping.Polarity.BOTH;
        return Optional.of(new Clipping(ms, 20 * Math.log10(flat), polarity, first / sampleRate));
    }

    private static TarsosDSPAudioFormat format(double sampleRate) {
        return new TarsosDSPAudioFormat((float) sampleRate, 32, 1, true, false);
    }
}
