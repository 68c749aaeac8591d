package ohmprint.app.audition;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.audiofile.AudioFiles;
import ohmprint.audiofile.WavEncoding;
import ohmprint.circuit.Load;
import ohmprint.dsp.SampleSource;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The files that come out: their format, their level, the comparison beside them, and none where nothing can be done. */
@Tag("slow")
class AuditionFilesTest extends TakeForAnotherLoad {
    @ParameterizedTest
    @EnumSource(WavEncoding.class)
    void bitDepthRateLengthAndChannelsStay(WavEncoding encoding) throws Exception {
        double[] sound = new Performance(8000, 1, 8).through(COIL, LOW);
        double[] other = new double[sound.length];
        Arrays.fill(other, 0.25);
        Path take = Performance.write(folder.resolve("take.wav"), 8000, encoding, sound, other, sound);
        AuditionRequest all = request(take, COIL, LOW, Load.open());
        run(new AuditionRequest(take, all.curve(), all.from(), all.to(), 1, false, out(), null));
        try (SampleSource source = AudioFiles.open(out())) {
            assertThat(source.channels()).isEqualTo(3);
            assertThat(source.frames()).isEqualTo(sound.length);
            assertThat(source.sampleRate()).isEqualTo(8000);
            assertThat(WavEncoding.holding(source)).isEqualTo(encoding);
        }
        double[][] rendered = Performance.read(out());
        double step = encoding == WavEncoding.PCM_8 ? 2 / 128.0 : 1e-3;
        for (int i = 0; i < sound.length; i++) {
            assertThat(rendered[1][i]).isEqualTo(0.25, within(step));
            assertThat(rendered[2][i]).isEqualTo(sound[i], within(step));
        }
        assertThat(rms(rendered[0]) / rms(sound)).isGreaterThan(1.5);
    }

    @Test
    void aResultThatWouldClipIsLoweredAndToldByHowMuch() throws Exception {
        double[] sound = scaled(new Performance(RATE, 3, 9).through(COIL, LOW), 0.9);
        Path take = Performance.write(folder.resolve("take.wav"), RATE, WavEncoding.PCM_16, sound);
        AuditionOutcome outcome = run(request(take, COIL, LOW, Load.open()));
        double[] rendered = Performance.read(out())[0];
        double peak = Arrays.stream(rendered).map(Math::abs).max().orElseThrow();
        assertThat(outcome.loweredByDb()).isBetween(3.0, 12.0);
        assertThat(20 * Math.log10(peak)).isEqualTo(-0.1, within(0.01));
        assertThat(20 * Math.log10(rms(rendered) / rms(sound)))
                .isEqualTo(outcome.levelChangeDb() - outcome.loweredByDb(), within(0.01));
    }

    @Test
    void floatsAreNotLoweredButTheOutcomeWarns() throws Exception {
        double[] sound = scaled(new Performance(RATE, 2, 9).through(COIL, LOW), 0.9);
        Path take = Performance.write(folder.resolve("take.wav"), RATE, WavEncoding.FLOAT_32, sound);
        AuditionOutcome outcome = run(request(take, COIL, LOW, Load.open()));
        assertThat(outcome.loweredByDb()).isZero();
        assertThat(outcome.peakDb()).isGreaterThan(1);
        assertThat(outcome.notes()).anyMatch(n -> n.contains("exceeds full scale"));
    }

    @Test
    void levelMatchedResultHasTheLevelOfTheTake() throws Exception {
        double[] sound = new Performance(RATE, 3, 10).through(RIBBON, LOW);
        Path take = Performance.write(folder.resolve("take.wav"), RATE, WavEncoding.PCM_24, sound);
        AuditionRequest plain = request(take, RIBBON, LOW, Load.open());
        AuditionOutcome outcome =
                run(new AuditionRequest(take, plain.curve(), plain.from(), plain.to(), null, true, out(), null));
        assertThat(rms(Performance.read(out())[0]) / rms(sound)).isEqualTo(1, within(1e-4));
        assertThat(outcome.matchedByDb()).isEqualTo(-outcome.levelChangeDb(), within(1e-9));
        assertThat(outcome.levelChangeDb()).isGreaterThan(5);
    }

    @Test
    void theComparisonAlternatesTheLoudestPassagesAsRecordedAndAsRendered() throws Exception {
        double[] sound = new double[20 * RATE];
        double[] loud = new Performance(RATE, 5, 11).through(COIL, LOW);
        System.arraycopy(loud, 0, sound, 8 * RATE, loud.length);
        Path take = Performance.write(folder.resolve("take.wav"), RATE, WavEncoding.PCM_24, sound);
        AuditionRequest plain = request(take, COIL, LOW, Load.open());
        Path comparison = folder.resolve("both.wav");
        AuditionOutcome outcome =
                run(new AuditionRequest(take, plain.curve(), plain.from(), plain.to(), null, false, out(), comparison));
        assertThat(outcome.comparisonSeconds()).hasSize(3).isSorted().anyMatch(s -> s >= 8 && s <= 9);
        int loudest = IntStream.range(0, 3)
                .filter(i -> outcome.comparisonSeconds().get(i) >= 8
                        && outcome.comparisonSeconds().get(i) <= 9)
                .findFirst()
                .orElseThrow();
        double[] both = Performance.read(comparison)[0];
        double[] rendered = Performance.read(out())[0];
        double pair = 2 * 4 + 0.3 + 0.8;
        assertThat(both.length).isCloseTo((int) Math.round((3 * pair - 0.8) * RATE), within(4));
        int start = (int) Math.round(outcome.comparisonSeconds().get(loudest) * RATE);
        int inBoth = (int) Math.round(loudest * pair * RATE);
        int second = inBoth + (int) Math.round(4.3 * RATE);
        for (int i = RATE; i < 2 * RATE; i++) {
            assertThat(both[inBoth + i]).isEqualTo(sound[start + i], within(1e-6));
            assertThat(both[second + i]).isEqualTo(rendered[start + i], within(1e-6));
        }
    }

    @Test
    void whatCannotBeDoneIsSaidAndLeavesNothingBehind() throws Exception {
        double[] sound = new double[1000];
        Path take = Performance.write(folder.resolve("take.wav"), RATE, WavEncoding.PCM_16, sound);
        AuditionRequest good = request(take, COIL, LOW, Load.open());
        String magnitudes = folder.resolve("magnitudes.json").toString();
        Files.writeString(Path.of(magnitudes), ohmprint.exchange.CurveJson.write(SampleMeasurements.magnitudesOnly()));
        Path text = Files.writeString(folder.resolve("notes.wav"), "no sound");
        List<String> before = names();
        refused(good, take, take, null, null, "exists and is not overwritten");
        refused(good, take, out(), null, 2, "has 1 channel, not 2");
        refused(good, take, out(), out(), null, "named for two results");
        refused(good, folder.resolve("nowhere.wav"), out(), null, null, "is not there");
        refused(good, take, folder.resolve("none/open.wav"), null, null, "no folder");
        AuditionRequest noPhase =
                new AuditionRequest(take, magnitudes, good.from(), good.to(), null, false, out(), null);
        assertThatThrownBy(() -> run(noPhase))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("no phase");
        assertThatThrownBy(() ->
                        run(new AuditionRequest(text, good.curve(), good.from(), good.to(), null, false, out(), null)))
                .isInstanceOf(IOException.class);
        assertThat(names()).isEqualTo(before);
    }

    private void refused(AuditionRequest good, Path take, Path out, Path comparison, Integer channel, String said) {
        assertThatThrownBy(() -> run(new AuditionRequest(
                        take, good.curve(), good.from(), good.to(), channel, false, out, comparison)))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining(said);
    }

    private List<String> names() throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.map(Path::toString).sorted().toList();
        }
    }

    private static double[] scaled(double[] x, double peak) {
        double most = Arrays.stream(x).map(Math::abs).max().orElseThrow();
        return Arrays.stream(x).map(v -> v * peak / most).toArray();
    }

    private static double rms(double[] x) {
        return Math.sqrt(Arrays.stream(x).map(v -> v * v).sum() / x.length);
    }
}
