package ohmprint.app.stimulus;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.stimulus.StimulusRequest.Sound;
import ohmprint.app.stimulus.StimulusRequest.Timing;
import ohmprint.audiofile.WavEncoding;
import ohmprint.audiofile.WavWriter;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.dsp.Noise;
import ohmprint.files.AtomicFile;

/** Writes a stimulus: see the package. */
public final class WriteStimulus {
    /** Longest file, frames: longer takes could not be divided by it in one piece. */
    private static final long MOST_FRAMES = 1 << 22;

    private static final int CHUNK = 1 << 15;
    private static final double NYQUIST_SHARE = 0.985;

    private static final List<String> CAUTIONS = List.of(
            "It is loud: begin with the volume down, wear hearing protection, keep others out of the room.",
            "Low frequencies move a loudspeaker and a ribbon far; raise --from for small or delicate ones.");

    private WriteStimulus() {}

    /**
     * Writes the file; it appears whole or not at all.
     *
     * @throws BadInputException if the sound cannot be made as asked, or a file is there that may not be replaced
     * @throws IOException if it cannot be written
     */
    public static StimulusOutcome run(StimulusRequest request) throws BadInputException, IOException {
        Path file = request.file();
        if (Files.isDirectory(file)) {
            throw new BadInputException(file + " is a folder; name a file in it, such as stimulus.wav");
        }
        if (Files.exists(file) && !request.replace()) {
            throw taken(file);
        }
        double[] sound = sound(request);
        Timing timing = request.timing();
        int period = sound.length + frames(timing.gapSeconds(), request);
        int lead = timing.loop() ? 0 : frames(timing.leadSeconds(), request);
        long all = timing.loop()
                ? period
                : lead + (long) period * (timing.repeats() - 1) + sound.length + frames(timing.tailSeconds(), request);
        if (all > MOST_FRAMES) {
            throw new BadInputException("the file would have " + all + " frames, and its takes more than the "
                    + MOST_FRAMES + " that measure can divide in one piece; make it shorter or use fewer repeats");
        }
        double[] samples = new double[(int) all];
        for (int r = 0; r < timing.repeats(); r++) {
            System.arraycopy(sound, 0, samples, lead + r * period, sound.length);
        }
        write(request, samples);
        return new StimulusOutcome(
                file,
                request.sound() == Sound.SWEEP ? "sweep" : "noise",
                request.sampleRate(),
                all,
                timing.repeats(),
                (double) period / request.sampleRate(),
                decibels(Arrays.stream(sound).map(Math::abs).max().orElse(0)),
                decibels(
                        Math.sqrt(Arrays.stream(sound).map(v -> v * v).average().orElse(0))),
                CAUTIONS);
    }

    private static double[] sound(StimulusRequest request) throws BadInputException {
        double rate = request.sampleRate();
        try {
            if (request.sound() == Sound.SWEEP) {
                return ExponentialSweep.ofBand(
                                request.fromHz(), request.toHz(), request.seconds(), request.peakDbfs(), rate)
                        .samples();
            }
            double to = Math.min(request.toHz(), NYQUIST_SHARE * rate / 2);
            return Noise.period(
                    2 * (int) Math.round(request.seconds() * rate / 2),
                    request.sound() == Sound.PINK ? Noise.Colour.PINK : Noise.Colour.WHITE,
                    request.fromHz(),
                    to,
                    Math.pow(10, request.peakDbfs() / 20),
                    rate,
                    request.seed());
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private static void write(StimulusRequest request, double[] samples) throws BadInputException, IOException {
        Path file = request.file();
        WavEncoding encoding = request.bits() == 16 ? WavEncoding.PCM_16 : WavEncoding.PCM_24;
        AtomicFile.Content<IOException> content = part -> {
            try (WavWriter writer = WavWriter.create(part, 1, request.sampleRate(), encoding)) {
                double[][] channel = {samples};
                for (int at = 0; at < samples.length; at += CHUNK) {
                    writer.write(channel, at, Math.min(CHUNK, samples.length - at));
                }
                writer.flush();
            }
        };
        try {
            if (request.replace()) {
                AtomicFile.replace(file, content);
            } else {
                AtomicFile.create(file, content);
            }
        } catch (FileAlreadyExistsException e) {
            throw taken(file);
        } catch (NoSuchFileException e) {
            throw new BadInputException("the folder of " + file + " does not exist; make it first", e);
        } catch (AccessDeniedException e) {
            throw new BadInputException(file + " may not be written here; name a file in another folder", e);
        }
    }

    private static BadInputException taken(Path file) {
        return new BadInputException(
                file + " is there already and is left as it is; name another file, or add --replace");
    }

    private static int frames(double seconds, StimulusRequest request) {
        return (int) Math.round(seconds * request.sampleRate());
    }

    private static double decibels(double amplitude) {
        return 20 * Math.log10(amplitude);
    }
}
