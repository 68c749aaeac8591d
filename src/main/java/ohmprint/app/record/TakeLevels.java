package ohmprint.app.record;

import java.io.IOException;
import java.util.Arrays;
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
public record TakeLevels(FrequencyBands bands, double[] signal, double[] noise, double seconds) {
    private static final double FROM_HZ = 20;
    private static final double TO_HZ = 20_000;
    private static final int FRACTION = 12;
    private static final double HIGHEST_SHARE = 0.45;
    private static final int MOST_FRAMES = 1 << 23;

    /** The levels of the microphone's channel, over those of the reference channel where there is one. */
    static TakeLevels of(TakeInspection take) throws IOException {
        TakeLevels own = ofMicrophone(take);
        return take.reference() == null
                ? own
                : own.over(of(take, take.recording().throughReference(), false));
    }

    private static TakeLevels ofMicrophone(TakeInspection take) throws IOException {
        return of(take, take.recording(), take.floor() != null);
    }

    /** The levels of a channel; {@code known} tells whether silence told its noise. */
    private static TakeLevels of(TakeInspection take, TakeRecording recording, boolean known) throws IOException {
        double rate = take.indicators().sampleRate();
        FrequencyBands bands = FrequencyBands.within(FRACTION, FROM_HZ, Math.min(TO_HZ, HIGHEST_SHARE * rate));
        double[] x = sounding(recording);
        int frames = x.length;
        int n = RealFourier.lengthFor(frames);
        double[] spectrum = Arrays.copyOf(x, n);
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

    /**
     * Levels of the sounding part of a take in twelfth octaves. With X the transform of n frames in N points, a band of bins
     * has the mean square {@code 2·Σ|X_i|²/(N·n)} (Parseval).
     *
     * @param frequencyHz midbands in hertz
     * @param signalDbfs mean square of the sound less the noise, dBFS; NaN where nothing is left
     * @param noiseDbfs mean square of the noise before the sound, dBFS; NaN where no silence tells it
     */
    public record Spectrum(double[] frequencyHz, double[] signalDbfs, double[] noiseDbfs) {
        /**
         * The levels of the microphone's channel.
         *
         * @throws IOException if its file cannot be read
         */
        public static Spectrum of(TakeInspection take) throws IOException {
            TakeLevels levels = ofMicrophone(take);
            int frames = (int) Math.round(levels.seconds() * take.indicators().sampleRate());
            double perEnergy = 2.0 / ((double) RealFourier.lengthFor(frames) * frames);
            return new Spectrum(
                    levels.bands().midbands(),
                    decibels(levels.signal(), perEnergy),
                    decibels(levels.noise(), perEnergy));
        }

        private static double[] decibels(double[] energy, double perEnergy) {
            return Arrays.stream(energy)
                    .map(e -> e > 0 ? 10 * Math.log10(e * perEnergy) : Double.NaN)
                    .toArray();
        }
    }
}
