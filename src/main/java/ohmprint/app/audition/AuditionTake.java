package ohmprint.app.audition;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.app.Progress;
import ohmprint.app.audition.Reloading.Extension;
import ohmprint.app.audition.Rendering.Levels;
import ohmprint.audiofile.AudioFiles;
import ohmprint.audiofile.WavEncoding;
import ohmprint.audiofile.WavWriter;
import ohmprint.dsp.FittedFilter;
import ohmprint.dsp.RealFourier;
import ohmprint.dsp.SampleSource;

/** Renders a take as it would sound into another load. */
public final class AuditionTake {
    /** Least length of the filter: longer than a resonance at the lower end of hearing rings. */
    private static final double FILTER_SECONDS = 1.3;
    /** How far ahead of a sound the filter may begin. */
    private static final double LEAD_SECONDS = 1e-3;

    private static final double PASSAGE_SECONDS = 4;
    private static final int MOST_PASSAGES = 3;
    /** A result that has to be lowered stays this far below full scale. */
    private static final double HEADROOM = Math.pow(10, -0.1 / 20);

    private static final double[] TOLD_HZ = {20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000};

    private static final double EDGE_DB_TO_TELL = 0.5;

    private final AuditionRequest request;
    private final Progress progress;
    private final NamedCurve stored;
    private final Reloading reloading;
    private final AuditionFiles files;

    private AuditionTake(
            AuditionRequest request, Progress progress, NamedCurve stored, Reloading reloading, AuditionFiles files) {
        this.request = request;
        this.progress = progress;
        this.stored = stored;
        this.reloading = reloading;
        this.files = files;
    }

    /**
     * Renders.
     *
     * @param request what is wanted
     * @param progress hears how far it has come
     * @throws BadInputException if take, curve, loads or files cannot be used; nothing is written then
     * @throws IOException if a file cannot be read or written; nothing is left behind then
     */
    public static AuditionOutcome run(AuditionRequest request, Progress progress)
            throws BadInputException, IOException {
        if (!Files.exists(request.take())) {
            throw new BadInputException(request.take() + " is not there; give the path of a recording");
        }
        AuditionFiles files = new AuditionFiles(request);
        NamedCurve stored = NamedCurve.of(request.curve());
        Reloading reloading = Reloading.of(stored, request.from(), request.to());
        return new AuditionTake(request, progress, stored, reloading, files).outcome();
    }

    private AuditionOutcome outcome() throws BadInputException, IOException {
        WavEncoding encoding;
        double rate;
        int channels;
        try (SampleSource take = AudioFiles.open(request.take())) {
            encoding = WavEncoding.holding(take);
            rate = take.sampleRate();
            channels = take.channels();
            if (take.frames() == 0) {
                throw new BadInputException(request.take() + " holds no sound; give another take");
            }
        }
        Integer only = request.channel();
        if (only != null && only > channels) {
            throw new BadInputException(request.take() + " has " + channels + " channel" + (channels == 1 ? "" : "s")
                    + ", not " + only + "; name one of them, or none for all");
        }
        if (rate != Math.rint(rate)) {
            throw new BadInputException(request.take() + " has a sample rate of " + rate
                    + " Hz, which a WAV file cannot say; convert it to a whole number of hertz");
        }
        int channel = only == null ? -1 : only - 1;
        Extension target;
        try {
            target = new Extension(reloading::response, reloading.lowestHz(), reloading.highestHz(), rate);
        } catch (IllegalArgumentException e) {
            throw new BadInputException(request.take() + ": " + e.getMessage(), e);
        }
        FittedFilter filter = FittedFilter.of(
                target,
                reloading.lowestHz(),
                target.highHz(),
                rate,
                RealFourier.lengthFor((long) Math.ceil(FILTER_SECONDS * rate)),
                (int) Math.round(LEAD_SECONDS * rate));
        Levels levels = new Levels(rate, channel);
        pass(filter, channel, 0, levels);
        return written(encoding, rate, filter, channel, target.highHz(), levels);
    }

    private AuditionOutcome written(
            WavEncoding encoding, double rate, FittedFilter filter, int channel, double highHz, Levels levels)
            throws IOException {
        double ratio = levels.ratio();
        double match = request.levelMatched() && ratio > 0 ? 1 / ratio : 1;
        Path comparison = request.comparison();
        double loudest =
                Math.max(match * levels.renderedPeak(), comparison != null || channel >= 0 ? levels.plainPeak() : 0);
        double lowered = encoding.floating() || loudest <= 1 ? 1 : HEADROOM / loudest;
        double seconds = PASSAGE_SECONDS;
        List<Long> starts = comparison == null ? List.of() : levels.loudest(MOST_PASSAGES, PASSAGE_SECONDS);
        files.write(parts -> {
            render(parts.get(0), encoding, rate, filter, channel, match, lowered);
            if (comparison != null) {
                AuditionFiles.comparison(
                        parts.get(1), request.take(), parts.get(0), lowered, starts, seconds, encoding);
            }
        });
        return new AuditionOutcome(
                stored.measurement().microphone().label(),
                words(request.from()),
                words(request.to()),
                reloading.lowestHz(),
                highHz,
                changes(highHz),
                decibels(ratio),
                decibels(match),
                lowered == 1 ? 0 : -decibels(lowered),
                decibels(lowered * match * levels.renderedPeak()),
                request.out(),
                comparison,
                starts.stream().map(s -> s / rate).toList(),
                seconds,
                notes(highHz, filter, rate, encoding, lowered * match * levels.renderedPeak(), levels.plainPeak()));
    }

    private void render(
            Path out, WavEncoding encoding, double rate, FittedFilter filter, int channel, double match, double lowered)
            throws IOException {
        try (SampleSource shape = AudioFiles.open(request.take());
                WavWriter writer = AuditionFiles.result(out, shape.channels(), rate, encoding)) {
            pass(filter, channel, 0.5, (plain, rendered, offset, count) -> {
                for (int c = 0; c < rendered.length; c++) {
                    double gain = channel < 0 || channel == c ? match * lowered : lowered;
                    for (int i = offset; i < offset + count; i++) {
                        rendered[c][i] *= gain;
                    }
                }
                writer.write(rendered, offset, count);
            });
        }
    }

    private void pass(FittedFilter filter, int channel, double from, Rendering.Listener listener) throws IOException {
        try (Rendering rendering = new Rendering(AudioFiles.open(request.take()), filter, channel)) {
            double all = Math.max(1, rendering.left());
            while (rendering.next(listener)) {
                double done = 1 - Math.max(0, rendering.left()) / all;
                progress.at(
                        (from == 0 ? "reading " : "rendering ") + request.take().getFileName(), from + 0.5 * done);
            }
        }
    }

    private List<AuditionOutcome.Change> changes(double highHz) {
        return Stream.concat(
                        Stream.of(reloading.lowestHz(), highHz),
                        Arrays.stream(TOLD_HZ).boxed())
                .filter(hz -> hz >= reloading.lowestHz() && hz <= highHz)
                .distinct()
                .sorted()
                .map(reloading::change)
                .toList();
    }

    private List<String> notes(
            double highHz, FittedFilter filter, double rate, WavEncoding encoding, double peak, double plainPeak) {
        List<String> notes = new ArrayList<>();
        double above = reloading.change(highHz).changeDb();
        double low = reloading.lowestHz();
        notes.add(String.format(
                Locale.ROOT,
                "Outside %.1f Hz to %.0f Hz nothing is claimed: the filter heads smoothly for unity, from %+.1f dB at the"
                        + " upper end to %+.1f dB at %.0f Hz, and from %+.1f dB at the lower end to %+.1f dB at %.1f Hz.",
                low,
                highHz,
                above,
                outsideDb(filter, Math.min(2 * highHz, rate / 2), rate),
                Math.min(2 * highHz, rate / 2),
                reloading.change(low).changeDb(),
                outsideDb(filter, low / 8, rate),
                low / 8));
        if (highHz < 15_000 && Math.abs(above) > EDGE_DB_TO_TELL) {
            notes.add(
                    "The band ends within what is heard; what lies above it keeps the level that it has in the take.");
        }
        if (reloading.bridged()) {
            notes.add("The curve has bands without a value; they are bridged.");
        }
        if (encoding.floating() && peak > 1) {
            notes.add(String.format(
                    Locale.ROOT,
                    "The result exceeds full scale by %.1f dB; its floats hold that, a converter does not.",
                    decibels(peak)));
        }
        if (!encoding.floating() && plainPeak >= 1 - Math.scalb(1.0, 1 - 8 * Math.min(3, encoding.bytes()))) {
            notes.add("The take reaches full scale: where it was clipped, the result is wrong.");
        }
        return notes;
    }

    private static double outsideDb(FittedFilter filter, double hz, double rate) {
        double db = decibels(filter.response(hz, rate).abs());
        return Math.abs(db) < 0.05 ? 0 : db;
    }

    private static String words(AuditionRequest.Side side) {
        Double ohm = side.inputOhm();
        String input = ohm == null ? "" : String.format(Locale.ROOT, ", input %s Ω", plain(ohm));
        return side.load().label() + input + (side.inputPf() > 0 ? " ∥ " + plain(side.inputPf()) + " pF" : "");
    }

    private static String plain(double value) {
        return value == Math.rint(value) ? Long.toString((long) value) : Double.toString(value);
    }

    private static double decibels(double ratio) {
        return 20 * Math.log10(ratio);
    }
}
