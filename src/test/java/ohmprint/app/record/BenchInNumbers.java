package ohmprint.app.record;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.record.Recording.Step;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.Microphone;
import ohmprint.loopback.SoundlessBench;
import org.junit.jupiter.api.io.TempDir;

/** A bench that exists only in numbers, and a session recorded on it step by step. */
abstract class BenchInNumbers {
    static final double OPEN = Double.POSITIVE_INFINITY;
    static final RecordRequest.Sound SHORT = new RecordRequest.Sound(null, false, 1, 20, 20_000, -18);
    static final RecordRequest.Bench BENCH = new RecordRequest.Bench(null, null, null, null, null, null, 0.6, 0.4);

    @TempDir
    Path dir;

    final SoundlessBench bench = new SoundlessBench();
    final List<String> notes = new ArrayList<>();
    final List<Step> steps = new ArrayList<>();
    int readings;

    final Recording.Listener listener = new Recording.Listener() {
        @Override
        public void noted(String message) {
            notes.add(message);
        }

        @Override
        public void stepped(Step step) {
            steps.add(step);
        }

        @Override
        public void heard(double peakDbfs, double rmsDbfs, double share) {
            readings++;
        }
    };

    Path folder() {
        return dir.resolve("session");
    }

    RecordRequest request(RecordRequest.Bench with, Double rated, Double... ohms) {
        Microphone microphone = new Microphone("Bench coil 4", null, null, null, null, rated, null, null);
        RecordRequest.Input input = new RecordRequest.Input(3000, 0.1, 470);
        return new RecordRequest(folder(), microphone, input, RecordRequest.Loads.ofOhms(ohms), SHORT, with, null);
    }

    Recording open(Double... ohms) throws BadInputException, IOException {
        return Recording.open(request(BENCH, 200.0, ohms), bench, listener);
    }

    Recording resumed() throws BadInputException, IOException {
        return Recording.open(RecordRequest.of(folder()), bench, listener);
    }

    /** Up to the first take, without a level check. */
    Recording ready(Double... ohms) throws BadInputException, IOException {
        Recording recording = open(ohms);
        recording.cautionsRead();
        recording.levelAccepted();
        return recording;
    }

    TakeReport take(Recording recording, double ohm) throws BadInputException, IOException {
        bench.ohm = ohm;
        return recording.recordTake();
    }

    List<String> files() {
        try (Stream<Path> files = Files.list(folder())) {
            return files.map(f -> f.getFileName().toString()).sorted().toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static List<FindingCode> codes(TakeReport report) {
        return report.findings().stream().map(Finding::code).toList();
    }
}
