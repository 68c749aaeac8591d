package ohmprint.dsp;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Objects;
import java.util.function.Consumer;

/**
 * The level of one channel while it is recorded: a reading for each window of samples. Not for several threads at once.
 *
 * <p>Each window is one run of TarsosDSP's dispatcher, which asks for samples and would wait for them; a sound line hands
 * them over instead, and waiting for the meter must not hold it up.
 */
public final class LiveLevel {
    private final double sampleRate;
    private final float[] window;
    private final Consumer<Reading> listener;
    private int filled;

    /**
     * What a window shows.
     *
     * @param peakDbfs highest absolute sample in dBFS; −∞ for digital silence
     * @param rmsDbfs mean square without the direct component of the window, in dBFS; −∞ likewise
     */
    public record Reading(double peakDbfs, double rmsDbfs) {}

    /**
     * A meter.
     *
     * @param sampleRate in hertz
     * @param windowSeconds time between readings
     * @param listener hears the readings, on the thread that hands over the samples
     */
    public LiveLevel(double sampleRate, double windowSeconds, Consumer<Reading> listener) {
        this.sampleRate = sampleRate;
        this.window = new float[(int) Math.max(1, Math.round(windowSeconds * sampleRate))];
        this.listener = listener;
    }

    /**
     * Takes the next samples.
     *
     * @param block samples relative to full scale
     * @param count how many of them
     */
    public void accept(double[] block, int count) {
        Objects.checkFromToIndex(0, count, block.length);
        for (int i = 0; i < count; i++) {
            window[filled++] = (float) block[i];
            if (filled == window.length) {
                read();
            }
        }
    }

    private void read() {
        LevelMeter meter = new LevelMeter(sampleRate);
        try {
            new Window().passThrough(List.of(meter));
        } catch (IOException e) {
            throw new UncheckedIOException("samples in memory cannot fail to be read", e);
        }
        double square = Math.max(0, meter.rms() * meter.rms() - meter.offset() * meter.offset());
        listener.accept(new Reading(20 * Math.log10(meter.peak()), 10 * Math.log10(square)));
    }

    /** The window as a stream that ends with it. */
    private final class Window extends SampleStream {
        Window() {
            super(sampleRate, window.length);
        }

        @Override
        int next(float[] into, int count) {
            int got = Math.min(count, filled);
            System.arraycopy(window, 0, into, 0, got);
            filled = 0;
            return got;
        }
    }
}
