package ohmprint.app.record;

import java.io.IOException;
import ohmprint.app.measure.TakeInspection;
import ohmprint.dsp.RealFourier;
import ohmprint.dsp.SampleSource;
import ohmprint.dsp.Samples;
import ohmprint.estimation.TakeRecording;
import ohmprint.impedance.FrequencyBands;

/**
 * Energy of a take per band: signal and noise of the sounding part in one transform, {@code Σ|X_i|²} over the bins of each
 * band; of noise with the one-sided density S, n samples at the rate f_s give {@code Σ S(f_i)·n·f_s/2} there.
 *
 * @param bands twelfth octaves
 * @param signal energy of each band less the expected noise, full scale²; 0 or more
 * @param noise expected noise energy of each band; NaN when no silence told the noise
 * @param seconds length of the sounding part
 */
record TakeLevels(FrequencyBands bands, double[] signal, double[] noise, double seconds) {
    /** Lowest midband looked at, hertz. */
    static final double FROM_HZ = 20;

    /** Highest midband looked at, hertz. */
    static final double TO_HZ = 20_000;

    private static final int FRACTION = 12;
    private static final double HIGHEST_SHARE = 0.45;
    private static final int MOST_FRAMES = 1 << 23;

    /** The levels of the whole range, over those of the reference channel where there is one. */
    static TakeLevels of(TakeInspection take) throws IOException {
        TakeLevels own = of(take, FROM_HZ, TO_HZ);
        return take.reference() == null ? own : own.over(ofReference(take, FROM_HZ, TO_HZ));
    }

    /**
     * The levels of the microphone's channel.
     *
     * @param fromHz lowest midband in hertz
     * @param toHz highest midband in hertz; lowered to what the sample rate holds
     */
    static TakeLevels of(TakeInspection take, double fromHz, double toHz) throws IOException {
        return of(take, take.recording(), take.floor() != null, fromHz, toHz);
    }

    /** The levels of the reference channel; their noise is not known. */
    static TakeLevels ofReference(TakeInspection take, double fromHz, double toHz) throws IOException {
        return of(take, take.recording().throughReference(), false, fromHz, toHz);
    }

    private static TakeLevels of(
            TakeInspection take, TakeRecording recording, boolean known, double fromHz, double toHz)
            throws IOException {
        double rate = take.indicators().sampleRate();
        FrequencyBands bands = FrequencyBands.within(FRACTION, fromHz, Math.min(toHz, HIGHEST_SHARE * rate));
        double[] x = sounding(recording);
        int frames = x.length;
        int n = RealFourier.lengthFor(frames);
        double[] spectrum = java.util.Arrays.copyOf(x, n);
        RealFourier.ofLength(n).forward(spectrum);
        double[] signal = new double[bands.size()];
        double[] noise = new double[bands.size()];
        double binHz = rate / n;
        for (int b = 0; b < signal.length; b++) {
            int first = (int) Math.max(1, Math.ceil(bands.lowerEdge(b) / binHz));
            int last = (int) Math.min(n / 2.0 - 1, Math.floor(bands.upperEdge(b) / binHz));
            double energy = 0;
            double expected = 0;
            for (int i = first; i <= last; i++) {
                energy += spectrum[2 * i] * spectrum[2 * i] + spectrum[2 * i + 1] * spectrum[2 * i + 1];
                expected += recording.noise().applyAsDouble(i * binHz) * frames * rate / 2;
            }
            signal[b] = Math.max(0, known ? energy - expected : energy);
            noise[b] = known ? expected : Double.NaN;
        }
        return new TakeLevels(bands, signal, noise, frames / rate);
    }

    private static double[] sounding(TakeRecording recording) throws IOException {
        try (SampleSource source = recording.opener().open()) {
            source.skip(recording.soundStart());
            long frames = Math.max(1, Math.min(MOST_FRAMES, recording.soundEnd() - recording.soundStart()));
            return Samples.channel(source, recording.channel(), (int) frames);
        }
    }

    /** The same over another channel's signal: what the source did drops out. */
    TakeLevels over(TakeLevels reference) {
        double[] relative = signal.clone();
        double[] floor = noise.clone();
        for (int b = 0; b < relative.length; b++) {
            double by = reference.signal[b];
            relative[b] = by > 0 ? relative[b] / by : 0;
            floor[b] = by > 0 ? floor[b] / by : floor[b];
        }
        return new TakeLevels(bands, relative, floor, seconds);
    }

    /** Power ratio of signal and noise in band {@code b}, per bin; NaN when the noise is not known. */
    double ratio(int b) {
        return signal[b] / noise[b];
    }

    /** True when band {@code b} stands out of the noise far enough for its level to mean something. */
    boolean holds(int b, double leastRatio) {
        return signal[b] > 0 && !(ratio(b) < leastRatio);
    }
}
