package ohmprint.signal;

import be.tarsos.dsp.AudioEvent;
import be.tarsos.dsp.io.TarsosDSPAudioFormat;
import java.util.Objects;
import java.util.function.Consumer;

/** The level of one channel while it is recorded: a reading for each window of samples. Not for several threads at once. */
public final class LiveLevel {
    private final double sampleRate;
    private final AudioEvent event;
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
        this.event = new AudioEvent(new TarsosDSPAudioFormat((float) sampleRate, 32, 1, true, false));
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
                filled = 0;
                read();
            }
        }
    }

    private void read() {
        LevelMeter meter = new LevelMeter(sampleRate);
        event.setFloatBuffer(window);
        meter.process(event);
        meter.processingFinished();
        double square = Math.max(0, meter.rms() * meter.rms() - meter.offset() * meter.offset());
        listener.accept(new Reading(20 * Math.log10(meter.peak()), 10 * Math.log10(square)));
    }
}
