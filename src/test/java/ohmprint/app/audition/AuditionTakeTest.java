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
import ohmprint.app.Progress;
import ohmprint.circuit.CapacitorCoupled;
import ohmprint.circuit.Load;
import ohmprint.circuit.LossyInductor;
import ohmprint.circuit.ModelCurves;
import ohmprint.circuit.MovingCoil;
import ohmprint.circuit.Resonance;
import ohmprint.circuit.RibbonTransformer;
import ohmprint.circuit.SourceModel;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.SampleMeasurements;
import ohmprint.signal.RealFourier;
import ohmprint.signal.SampleSource;
import ohmprint.wav.AudioFiles;
import ohmprint.wav.WavEncoding;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** A take rendered for another load is the take that this load would have given: both are computed from one circuit. */
class AuditionTakeTest {
    private static final int RATE = 44_100;
    private static final Load LOW = Load.ofOhms(150, 0);

    private static final SourceModel COIL =
            new MovingCoil(200, new LossyInductor(2e-3, 0.95), Resonance.ofPeak(100, 150, 1));
    private static final SourceModel RIBBON =
            new RibbonTransformer(1e-3, 1.369, 0.9995, 0.2, 20, 0, 1e-9, Resonance.ofPeak(0.07, 48, 2.2));
    private static final SourceModel ACTIVE = new CapacitorCoupled(75, 40e-6);

    @TempDir
    Path folder = Path.of(".");

    private Path out() {
        return folder.resolve("open.wav");
    }

    private AuditionRequest request(Path take, SourceModel source, Load from, Load to) throws IOException {
        return request(take, ModelCurves.exact(source, FrequencyBands.within(12, 20, 20_000)), from, to);
    }

    private AuditionRequest request(Path take, ImpedanceCurve curve, Load from, Load to) throws IOException {
        String reference = Performance.curve(folder, ModelCurves.measurement("Bench ribbon 7", "ribbon", curve));
        return new AuditionRequest(
                take, reference, Performance.side(from), Performance.side(to), null, false, out(), null);
    }

    private static AuditionOutcome run(AuditionRequest request) throws BadInputException, IOException {
        return AuditionTake.run(request, Progress.SILENT);
    }

    private static SourceModel source(String name) {
        return switch (name) {
            case "coil" -> COIL;
            case "ribbon" -> RIBBON;
            default -> ACTIVE;
        };
    }

    /** Two records within a band: level of the difference in dB, and the greatest difference of third octaves in dB. */
    private record Difference(double residualDb, double levelDb) {
        static Difference of(double[] x, double[] truth, double rate, double lowHz, double highHz) {
            RealFourier fourier = RealFourier.ofLength(RealFourier.lengthFor(truth.length));
            double[] a = Arrays.copyOf(x, fourier.length());
            double[] b = Arrays.copyOf(truth, fourier.length());
            fourier.forward(a);
            fourier.forward(b);
            double off = 0;
            double all = 0;
            double worst = 0;
            FrequencyBands bands = FrequencyBands.within(3, lowHz, highHz);
            for (int band = 0; band < bands.size(); band++) {
                int from = (int) Math.ceil(bands.lowerEdge(band) * fourier.length() / rate);
                int to = (int) Math.ceil(bands.upperEdge(band) * fourier.length() / rate);
                double powerA = 0;
                double powerB = 0;
                for (int i = from; i < to; i++) {
                    powerA += square(fourier.re(a, i), fourier.im(a, i));
                    powerB += square(fourier.re(b, i), fourier.im(b, i));
                    off += square(fourier.re(a, i) - fourier.re(b, i), fourier.im(a, i) - fourier.im(b, i));
                }
                all += powerB;
                worst = Math.max(worst, Math.abs(10 * Math.log10(powerA / powerB)));
            }
            return new Difference(10 * Math.log10(off / all), worst);
        }

        private static double square(double re, double im) {
            return re * re + im * im;
        }
    }

    @ParameterizedTest
    @CsvSource({
        "coil, 44100, 0.05",
        "coil, 48000, 0.05",
        "coil, 96000, 0.05",
        "ribbon, 44100, 0.05",
        "active, 48000, 0.05",
    })
    void aTakeThrough150OhmsBecomesTheOpenTake(String microphone, int rate, double mostDb) throws Exception {
        SourceModel source = source(microphone);
        Performance performance = new Performance(rate, 4, 5);
        Path take = Performance.write(
                folder.resolve("take.wav"), rate, WavEncoding.PCM_24, performance.through(source, LOW));
        run(request(take, source, LOW, Load.open()));
        double[] rendered = Performance.read(out())[0];
        Difference difference = Difference.of(rendered, performance.through(source, Load.open()), rate, 50, 15_000);
        assertThat(difference.levelDb()).isLessThan(mostDb);
        assertThat(difference.residualDb()).isLessThan(-50);
    }

    @Test
    void openTakeBecomesTheLoadedOneToo() throws Exception {
        Performance performance = new Performance(RATE, 5, 6);
        double[] open = performance.through(RIBBON, Load.open());
        Path take = Performance.write(folder.resolve("take.wav"), RATE, WavEncoding.FLOAT_32, open);
        run(request(take, RIBBON, Load.open(), LOW));
        Difference difference =
                Difference.of(Performance.read(out())[0], performance.through(RIBBON, LOW), RATE, 50, 15_000);
        assertThat(difference.levelDb()).isLessThan(0.05);
        assertThat(difference.residualDb()).isLessThan(-50);
    }

    @Test
    void theSameLoadLeavesTheTakeAsItIs() throws Exception {
        double[] sound = new Performance(RATE, 3, 7).through(COIL, LOW);
        Path take = Performance.write(folder.resolve("take.wav"), RATE, WavEncoding.FLOAT_64, sound);
        run(request(take, COIL, LOW, LOW));
        double[] rendered = Performance.read(out())[0];
        assertThat(rendered).hasSameSizeAs(sound);
        for (int i = 0; i < sound.length; i++) {
            assertThat(rendered[i]).isEqualTo(sound[i], within(1e-7));
        }
    }

    @ParameterizedTest
    @CsvSource({"coil, 44100", "ribbon, 48000", "active, 44100"})
    void nothingRingsAheadOfASound(String microphone, int rate) throws Exception {
        double[] click = new double[3 * rate];
        click[rate] = 0.1;
        Path take = Performance.write(folder.resolve("take.wav"), rate, WavEncoding.FLOAT_64, click);
        run(request(take, source(microphone), LOW, Load.open()));
        double[] rendered = Performance.read(out())[0];
        double peak = Arrays.stream(rendered).map(Math::abs).max().orElseThrow();
        double ahead = IntStream.range(0, rate - rate / 1000 - 1)
                .mapToDouble(i -> Math.abs(rendered[i]))
                .max()
                .orElseThrow();
        assertThat(20 * Math.log10(ahead / peak)).isLessThan(-80);
    }

    @Test
    void outsideTheMeasuredBandTheFilterGoesToUnityAndTheOutcomeSaysSo() throws Exception {
        double[] click = new double[4 * RATE];
        click[RATE] = 0.25;
        Path take = Performance.write(folder.resolve("take.wav"), RATE, WavEncoding.FLOAT_64, click);
        AuditionOutcome outcome =
                run(request(take, ModelCurves.exact(RIBBON, FrequencyBands.within(12, 100, 8000)), LOW, Load.open()));
        double[] x = Performance.read(out())[0];
        RealFourier fourier = RealFourier.ofLength(RealFourier.lengthFor(x.length));
        double[] spectrum = Arrays.copyOf(x, fourier.length());
        fourier.forward(spectrum);
        for (double hz : new double[] {15_500, 16_500, 20_000, 22_000}) {
            assertThat(gain(fourier, spectrum, hz, 0.25))
                    .as("gain at %s Hz", hz)
                    .isEqualTo(1, within(0.02));
        }
        assertThat(gain(fourier, spectrum, 10, 0.25)).isLessThan(0.8 * gain(fourier, spectrum, 103, 0.25));
        double before = 0;
        for (double hz = 8000; hz < 16_000; hz += 100) {
            double down = gain(fourier, spectrum, hz, 0.25);
            assertThat(before == 0 || down < before * 1.01)
                    .as("falls at %s Hz", hz)
                    .isTrue();
            before = down;
        }
        assertThat(outcome.lowestHz()).isEqualTo(102.92, within(0.01));
        assertThat(outcome.highestHz()).isEqualTo(7717.9, within(0.1));
        assertThat(outcome.notes().get(0)).contains("nothing is claimed").contains("unity");
        assertThat(outcome.notes().get(1)).contains("within what is heard");
    }

    private static double gain(RealFourier fourier, double[] spectrum, double hz, double click) {
        int i = (int) Math.round(hz * fourier.length() / RATE);
        return Math.hypot(fourier.re(spectrum, i), fourier.im(spectrum, i)) / click;
    }

    @Test
    void changesHaveTheUncertaintyOfTheCurve() throws Exception {
        double[] silence = new double[RATE];
        silence[100] = 0.1;
        Path take = Performance.write(folder.resolve("take.wav"), RATE, WavEncoding.PCM_24, silence);
        SourceModel resistor = hz -> new org.apache.commons.math3.complex.Complex(150);
        AuditionRequest request = request(
                take, ModelCurves.noisy(resistor, FrequencyBands.within(12, 20, 20_000), 1e-6, 1), LOW, Load.open());
        AuditionRequest.Side low = new AuditionRequest.Side(LOW, 1e9, 0);
        AuditionRequest.Side open = new AuditionRequest.Side(Load.open(), 1e9, 0);
        AuditionOutcome outcome = run(new AuditionRequest(take, request.curve(), low, open, null, false, out(), null));
        // Half the voltage across an equal load: 6.0206 dB; u(20·lg|1 + Z/150|) = 8.686·u(R)/300, u(R) = 150e-6/√2.
        assertThat(outcome.changes()).hasSizeGreaterThan(8).allSatisfy(change -> {
            assertThat(change.changeDb()).isEqualTo(6.0206, within(1e-4));
            assertThat(change.u95Db()).isEqualTo(1.96 * 8.686 * 150e-6 / Math.sqrt(2) / 300, within(1e-9));
        });
        assertThat(outcome.levelChangeDb()).isBetween(5.0, 6.03);
    }

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
        int loudest = (int) IntStream.range(0, 3)
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
    void aCurveInParallelWithItsInputNeedsNone() throws Exception {
        SourceModel parallel = hz -> COIL.impedance(hz)
                .reciprocal()
                .add(new org.apache.commons.math3.complex.Complex(
                        1 / Performance.INPUT_OHM, 2 * Math.PI * hz * Performance.INPUT_PF * 1e-12))
                .reciprocal();
        FrequencyBands bands = FrequencyBands.within(12, 20, 20_000);
        ImpedanceCurve curve =
                new ImpedanceCurve(bands, ModelCurves.exact(parallel, bands).values(), true);
        Performance performance = new Performance(RATE, 4, 12);
        Path take =
                Performance.write(folder.resolve("take.wav"), RATE, WavEncoding.PCM_24, performance.through(COIL, LOW));
        AuditionRequest stated = request(take, curve, LOW, Load.open());
        assertThatThrownBy(() -> run(stated))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("leave the input out");
        run(new AuditionRequest(
                take,
                stated.curve(),
                new AuditionRequest.Side(LOW, null, 0),
                new AuditionRequest.Side(Load.open(), null, 0),
                null,
                false,
                out(),
                null));
        Difference difference =
                Difference.of(Performance.read(out())[0], performance.through(COIL, Load.open()), RATE, 50, 15_000);
        assertThat(difference.residualDb()).isLessThan(-50);
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
