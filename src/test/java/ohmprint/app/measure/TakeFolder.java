package ohmprint.app.measure;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Consumer;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.audiofile.AudioFiles;
import ohmprint.audiofile.WavEncoding;
import ohmprint.audiofile.WavWriter;
import ohmprint.dsp.SampleSource;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.Route;

/** A session folder that tests spoil: a copy of a fixture, or takes of their own. */
final class TakeFolder {
    static final Path FIXTURES = Path.of("fixtures/sessions");
    private static final String MANIFEST = "session.yaml";

    final Path folder;

    TakeFolder(Path folder) {
        this.folder = folder;
    }

    /** A copy of a fixture's manifest and audio in {@code parent/session}. */
    static TakeFolder copyOf(String fixture, Path parent) throws IOException {
        Path folder = Files.createDirectories(parent.resolve("session"));
        try (Stream<Path> files = Files.list(FIXTURES.resolve(fixture))) {
            for (Path file : files.toList()) {
                String name = file.getFileName().toString();
                if (name.endsWith(".wav") || name.equals(MANIFEST)) {
                    Files.copy(file, folder.resolve(name));
                }
            }
        }
        return new TakeFolder(folder);
    }

    Path result() {
        return folder.resolve("result");
    }

    Path file(String name) {
        return folder.resolve(name);
    }

    /** All channels of a file. */
    double[][] read(String name) throws IOException {
        try (SampleSource source = AudioFiles.open(file(name))) {
            double[][] channels = new double[source.channels()][(int) source.frames()];
            int at = 0;
            for (int n; at < channels[0].length && (n = source.read(channels, at, channels[0].length - at)) > 0; ) {
                at += n;
            }
            return channels;
        }
    }

    int rate(String name) throws IOException {
        try (SampleSource source = AudioFiles.open(file(name))) {
            return (int) source.sampleRate();
        }
    }

    /** Writes 24 bits without dither: what was read from a file comes back as it was. */
    TakeFolder write(String name, int rate, double[]... channels) throws IOException {
        try (WavWriter writer = WavWriter.create(file(name), channels.length, rate, WavEncoding.PCM_24)) {
            writer.write(channels, 0, channels[0].length);
        }
        return this;
    }

    /** Changes the first channel of a take in place. */
    TakeFolder edit(String name, Consumer<double[]> change) throws IOException {
        double[][] channels = read(name);
        int rate = rate(name);
        change.accept(channels[0]);
        return write(name, rate, channels);
    }

    /** Keeps frames {@code from} to {@code to} of a take. */
    TakeFolder cut(String name, int from, int to) throws IOException {
        double[][] channels = read(name);
        int rate = rate(name);
        for (int c = 0; c < channels.length; c++) {
            channels[c] = java.util.Arrays.copyOfRange(channels[c], from, to);
        }
        return write(name, rate, channels);
    }

    /** Replaces a text that the manifest holds. */
    TakeFolder manifest(String was, String is) throws IOException {
        String text = Files.readString(file(MANIFEST));
        if (!text.contains(was)) {
            throw new IllegalArgumentException("the manifest does not hold \"" + was + "\":\n" + text);
        }
        return manifest(text.replace(was, is));
    }

    TakeFolder manifest(String text) throws IOException {
        Files.writeString(file(MANIFEST), text);
        return this;
    }

    /** Drops takes from the manifest by file name. */
    TakeFolder without(String... names) throws IOException {
        List<String> dropped = List.of(names);
        return manifest(String.join(
                        "\n",
                        Files.readAllLines(file(MANIFEST)).stream()
                                .filter(line -> dropped.stream().noneMatch(name -> line.contains("file: " + name)))
                                .toList())
                + "\n");
    }

    MeasureOutcome measure() throws IOException, BadInputException {
        return measure(MeasureRequest.of(folder));
    }

    MeasureOutcome measure(Route route) throws IOException, BadInputException {
        MeasureRequest all = MeasureRequest.of(folder);
        return measure(new MeasureRequest(folder, null, null, route, all.fromHz(), all.toHz(), false));
    }

    MeasureOutcome forced() throws IOException, BadInputException {
        MeasureRequest all = MeasureRequest.of(folder);
        return measure(new MeasureRequest(folder, null, null, null, all.fromHz(), all.toHz(), true));
    }

    static MeasureOutcome measure(MeasureRequest request) throws IOException, BadInputException {
        return MeasureSession.run(request, (what, done) -> {});
    }

    /** Findings of one code. */
    static List<Finding> findings(MeasureOutcome outcome, FindingCode code) {
        return outcome.measurement().findings().stream()
                .filter(f -> f.code() == code)
                .toList();
    }
}
