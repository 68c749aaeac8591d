package ohmprint.app.record;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.concurrent.CancellationException;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.TakeInspection;
import ohmprint.audiodevice.RunReport;
import ohmprint.audiodevice.SoundException;
import ohmprint.audiodevice.SoundRun;
import ohmprint.audiodevice.SoundSystem;
import ohmprint.audiofile.WavEncoding;
import ohmprint.audiofile.WavWriter;
import ohmprint.dsp.LiveLevel;
import ohmprint.session.Session;
import ohmprint.session.Take;

/**
 * Plays the sound and writes what is recorded straight into a file, 24 bits, as it comes; then reads it back beside the
 * takes that it is to be compared to.
 */
final class TakeCapture {
    private static final double WINDOW_SECONDS = 0.1;
    /** What buffers and the way through the devices add to a take, seconds; only the meter's share depends on it. */
    private static final double USUAL_EXTRA_SECONDS = 1.4;

    private static final long SPARE_BYTES = 1 << 20;

    private final SoundSystem sound;
    private final Setup setup;
    private final PlayedSound played;
    private final Recording.Listener listener;
    private volatile boolean cancelled;
    private volatile boolean running;

    TakeCapture(SoundSystem sound, Setup setup, PlayedSound played, Recording.Listener listener) {
        this.sound = sound;
        this.setup = setup;
        this.played = played;
        this.listener = listener;
    }

    /** Length of a take in seconds, without what buffers add. */
    double seconds() {
        return setup.leadSeconds() + played.samples().length / (double) setup.rate() + setup.tailSeconds();
    }

    /** Ends the run that is going on. */
    void cancel() {
        cancelled = running;
    }

    /**
     * Records one take.
     *
     * @param take its entry, under the name of the file to write
     * @param kept the session, and what the take can be compared to
     * @throws BadInputException if the disk has no room for it
     * @throws CancellationException after {@link #cancel}
     */
    RecordedTake record(Take take, AcceptedTakes kept) throws SoundException, IOException, BadInputException {
        Session session = kept.session();
        RunReport run = run(session.folder().resolve(take.file()));
        TakeInspection inspection = TakeInspection.of(session, take);
        return new RecordedTake(session, inspection, run, played.samples(), TakeLevels.of(inspection), kept.list());
    }

    private RunReport run(Path file) throws SoundException, IOException, BadInputException {
        double seconds = seconds() + USUAL_EXTRA_SECONDS;
        int channels = Math.max(setup.channel(), setup.referenceChannel() == null ? 1 : setup.referenceChannel());
        requireRoom(file, seconds, channels);
        SoundRun run = new SoundRun(
                setup.inputDevice(),
                setup.outputDevice(),
                setup.rate(),
                setup.channels(),
                played.samples(),
                setup.leadSeconds(),
                setup.tailSeconds());
        cancelled = false;
        running = true;
        try (WavWriter writer = WavWriter.create(file, channels, setup.rate(), WavEncoding.PCM_24)) {
            double expected = seconds * setup.rate();
            LiveLevel level = new LiveLevel(
                    setup.rate(),
                    WINDOW_SECONDS,
                    reading -> listener.heard(
                            reading.peakDbfs(), reading.rmsDbfs(), Math.min(1, writer.frames() / expected)));
            RunReport report = sound.run(run, (samples, frames) -> {
                writer.write(Arrays.copyOf(samples, channels), 0, frames);
                level.accept(samples[setup.channel() - 1], frames);
                return !cancelled;
            });
            if (cancelled) {
                throw new CancellationException("the take was broken off");
            }
            return report;
        } finally {
            running = false;
        }
    }

    private void requireRoom(Path file, double seconds, int channels) throws IOException, BadInputException {
        Path folder = file.toAbsolutePath().getParent();
        if (folder == null) {
            return;
        }
        long needed = (long) (seconds * setup.rate() * channels * WavEncoding.PCM_24.bytes()) + SPARE_BYTES;
        long free = Files.getFileStore(folder).getUsableSpace();
        if (free < needed) {
            throw new BadInputException("the disk of " + folder + " has " + free / 1000 + " kB left and a take needs "
                    + needed / 1000 + " kB; make room, then go on with record");
        }
    }
}
