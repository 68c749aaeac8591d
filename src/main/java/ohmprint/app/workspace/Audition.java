package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.app.audition.AuditionRequest;
import ohmprint.app.audition.AuditionTake;
import ohmprint.app.measure.TakeInspection;
import ohmprint.audiofile.AudioFiles;
import ohmprint.audiofile.WavEncoding;
import ohmprint.audiofile.WavWriter;
import ohmprint.circuit.AddedInput.PhantomFedInput;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.MeasuredInput;
import ohmprint.dsp.SampleSource;
import ohmprint.files.FileStamp;
import ohmprint.session.Session;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/** A piece of a take as it would sound into an input, as the bytes of a WAV file. The last one is kept. */
public final class Audition {
    private static final double MOST_SECONDS = 30;
    private static final int CHUNK = 1 << 14;
    private static final double MOST = 1e9;

    private final Path folder;
    private final PathGuard places;
    private @Nullable Kept kept;

    /** A rendering and what was asked. */
    private record Kept(Session session, Request form, FileStamp stamp, byte[] wav) {}

    Audition(Path folder, PathGuard places) {
        this.folder = folder;
        this.places = places;
    }

    /**
     * Renders.
     *
     * @param curve the session's curve
     * @param form what is to be heard
     */
    synchronized byte[] render(Path curve, Request form) throws BadInputException, IOException {
        Manifest manifest = Manifest.read(folder, places);
        Session session = manifest.session();
        if (session == null) {
            throw new ConflictException(String.valueOf(manifest.problem()));
        }
        Take take = session.takes().stream()
                .filter(t -> t.file().equals(form.take()))
                .findFirst()
                .orElseThrow(() ->
                        new MissingException("the session has no take " + form.take() + "; choose one of its takes"));
        Path recording = places.existing(folder, take.file());
        FileStamp stamp = FileStamp.of(List.of(recording, curve));
        Kept last = kept;
        if (last != null
                && last.form().equals(form)
                && last.session().equals(session)
                && last.stamp().holds(stamp)) {
            return last.wav();
        }
        byte[] wav = rendered(session, take, curve, form);
        kept = new Kept(session, form, stamp, wav);
        return wav;
    }

    private static byte[] rendered(Session session, Take take, Path curve, Request form)
            throws BadInputException, IOException {
        AuditionRequest.Side from = recorded(session.input(), take.load());
        AuditionRequest.Side to = wanted(session.input().isKnown(), form);
        try (TempDirectory scratch = TempDirectory.make()) {
            Path piece = scratch.file("take.wav");
            Path out = scratch.file("rendered.wav");
            cut(session, take, piece);
            AuditionTake.run(
                    new AuditionRequest(piece, curve.toString(), from, to, null, !form.whole(), out, null),
                    Progress.SILENT);
            return Files.readAllBytes(out);
        }
    }

    /** What the take was recorded through. */
    private static AuditionRequest.Side recorded(InputImpedance input, Load load) throws BadInputException {
        if (!input.isKnown()) {
            return new AuditionRequest.Side(load, null, 0);
        }
        InputImpedance bare = input instanceof PhantomFedInput fed ? fed.bare() : input;
        if (bare instanceof MeasuredInput) {
            throw new BadInputException("the recording input is a measured curve, which a take cannot be rendered from;"
                    + " state its resistance and capacitance to hear takes");
        }
        var admittance = input.admittance(1);
        return new AuditionRequest.Side(
                load, 1 / admittance.getReal(), admittance.getImaginary() / (2 * Math.PI) * 1e12);
    }

    /** What it shall be heard through: the load stands for a whole input. */
    private static AuditionRequest.Side wanted(boolean known, Request form) throws BadInputException {
        double ohm = form.loadOhm();
        if (!(ohm > 0) || ohm > MOST || !(form.capacitancePf() >= 0) || form.capacitancePf() > MOST) {
            throw new BadInputException("the load is " + ohm + " Ω with " + form.capacitancePf()
                    + " pF; give a resistance above 0 Ω and a capacitance of 0 pF or more");
        }
        return known
                ? new AuditionRequest.Side(Load.open(), ohm, form.capacitancePf())
                : new AuditionRequest.Side(Load.ofOhms(ohm, 0), null, form.capacitancePf());
    }

    /** The microphone's channel of the sounding part, as much of it as is played. */
    private static void cut(Session session, Take take, Path piece) throws IOException {
        var recording = TakeInspection.of(session, take).recording();
        try (SampleSource source = AudioFiles.open(session.path(take))) {
            long left = Math.min(
                    recording.soundEnd() - recording.soundStart(), (long) (MOST_SECONDS * source.sampleRate()));
            source.skip(recording.soundStart());
            double[][] chunk = new double[source.channels()][CHUNK];
            try (WavWriter writer =
                    WavWriter.create(piece, 1, (int) Math.round(source.sampleRate()), WavEncoding.holding(source))) {
                for (int n; left > 0 && (n = source.read(chunk, 0, (int) Math.min(CHUNK, left))) > 0; left -= n) {
                    writer.write(new double[][] {chunk[take.channel() - 1]}, 0, n);
                }
            }
        }
    }

    /**
     * What is to be heard.
     *
     * @param take file of a take
     * @param loadOhm resistance of the input that it shall be heard through, ohms
     * @param capacitancePf capacitance across it in picofarads
     * @param whole whether the loss of level is heard too, not only the change of sound
     */
    public record Request(String take, double loadOhm, double capacitancePf, boolean whole) {}
}
