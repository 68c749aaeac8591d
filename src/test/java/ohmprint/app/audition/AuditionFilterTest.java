package ohmprint.app.audition;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.stream.IntStream;
import ohmprint.audiofile.WavEncoding;
import ohmprint.circuit.Load;
import ohmprint.circuit.ModelCurves;
import ohmprint.circuit.SourceModel;
import ohmprint.dsp.RealFourier;
import ohmprint.impedance.FrequencyBands;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The filter where the circuit does not tell it: ahead of a sound, outside the measured band, and how sure its gain is. */
class AuditionFilterTest extends TakeForAnotherLoad {
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
}
