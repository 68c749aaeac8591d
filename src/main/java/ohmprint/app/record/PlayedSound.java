package ohmprint.app.record;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import ohmprint.app.BadInputException;
import ohmprint.audiofile.AudioFiles;
import ohmprint.audiofile.AudioFormatException;
import ohmprint.audiofile.WavEncoding;
import ohmprint.audiofile.WavWriter;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.dsp.Noise;
import ohmprint.dsp.SampleSource;
import ohmprint.dsp.Samples;

/**
 * The sound that all takes play.
 *
 * @param samples one channel, relative to full scale, as the file of the session holds it
 */
record PlayedSound(double[] samples) {
    static final String FILE = "stimulus.wav";

    private static final int LONGEST = 1 << 23;
    private static final long SEED = 1;
    /** Peak over root mean square to which Gaussian noise is limited, decibels. */
    private static final double NOISE_CREST_DB = 12;

    /**
     * Makes a sound and writes it, mono, 24 bits.
     *
     * @throws BadInputException if there is no such sound
     */
    static void make(RecordRequest.Sound wanted, int rate, Path file) throws IOException, BadInputException {
        double[] x;
        if (wanted.file() != null) {
            x = read(wanted.file(), rate).samples();
        } else if (wanted.noise()) {
            double peak = Math.pow(10, wanted.peakDbfs() / 20);
            double rms = Math.pow(10, (wanted.peakDbfs() - NOISE_CREST_DB) / 20);
            x = Noise.pink((int) (wanted.seconds() * rate), rms, rate, SEED);
            Arrays.setAll(x, i -> Math.max(-peak, Math.min(peak, x[i])));
        } else {
            x = sweep(wanted, rate);
        }
        try (WavWriter writer = WavWriter.create(file, 1, rate, WavEncoding.PCM_24)) {
            writer.write(new double[][] {x}, 0, x.length);
            writer.flush();
        }
    }

    private static double[] sweep(RecordRequest.Sound wanted, int rate) throws BadInputException {
        double to = Math.min(wanted.toHz(), 0.94 * rate / 2);
        try {
            return ExponentialSweep.ofBand(wanted.fromHz(), to, wanted.seconds(), wanted.peakDbfs(), rate)
                    .samples();
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    /**
     * Reads a sound.
     *
     * @throws BadInputException if the file is not sound of this rate, or too long
     */
    static PlayedSound read(Path file, int rate) throws IOException, BadInputException {
        try (SampleSource source = AudioFiles.open(file)) {
            if (source.sampleRate() != rate) {
                throw new BadInputException(
                        file + " has " + Math.round(source.sampleRate()) + " Hz, but takes are recorded"
                                + " at " + rate + " Hz; give a file of that rate, or record with --rate "
                                + Math.round(source.sampleRate()));
            }
            if (source.frames() > LONGEST) {
                throw new BadInputException(file + " lasts " + source.frames() / rate + " s; give a sound of at most "
                        + LONGEST / rate + " s");
            }
            double[] x = Samples.channel(source, 0, LONGEST);
            if (Arrays.stream(x).allMatch(v -> v == 0)) {
                throw new BadInputException(file + " is silent; give a sound to play");
            }
            return new PlayedSound(x);
        } catch (AudioFormatException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }
}
