package ohmprint.app.record;

import java.io.IOException;
import java.util.Arrays;
import ohmprint.app.measure.TakeInspection;
import ohmprint.dsp.RealFourier;

/**
 * Levels of the sounding part of a take in twelfth octaves. With X the transform of n frames in N points, a band of bins
 * has the mean square {@code 2·Σ|X_i|²/(N·n)} (Parseval).
 *
 * @param frequencyHz midbands in hertz
 * @param signalDbfs mean square of the sound less the noise, dBFS; NaN where nothing is left
 * @param noiseDbfs mean square of the noise before the sound, dBFS; NaN where no silence tells it
 */
public record TakeSpectrum(double[] frequencyHz, double[] signalDbfs, double[] noiseDbfs) {
    /**
     * The levels of the microphone's channel.
     *
     * @throws IOException if its file cannot be read
     */
    public static TakeSpectrum of(TakeInspection take) throws IOException {
        TakeLevels levels = TakeLevels.of(take, TakeLevels.FROM_HZ, TakeLevels.TO_HZ);
        int frames = (int) Math.round(levels.seconds() * take.indicators().sampleRate());
        double perEnergy = 2.0 / ((double) RealFourier.lengthFor(frames) * frames);
        return new TakeSpectrum(
                levels.bands().midbands(), decibels(levels.signal(), perEnergy), decibels(levels.noise(), perEnergy));
    }

    private static double[] decibels(double[] energy, double perEnergy) {
        return Arrays.stream(energy)
                .map(e -> e > 0 ? 10 * Math.log10(e * perEnergy) : Double.NaN)
                .toArray();
    }
}
