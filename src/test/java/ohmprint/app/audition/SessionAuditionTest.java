package ohmprint.app.audition;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.Arrays;
import ohmprint.app.Progress;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.measure.MeasureSession;
import ohmprint.circuit.Load;
import ohmprint.dsp.RealFourier;
import ohmprint.impedance.FrequencyBands;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A session whose takes ngspice computed in the time domain (fixtures/sessions/ribbon-repaired): one take rendered by the
 * curve that the session itself gives is the other take.
 */
class SessionAuditionTest {
    private static final Path SESSION = Path.of("fixtures/sessions/ribbon-repaired");
    private static final int RATE = 44_100;

    @Test
    void oneTakeOfASessionBecomesTheOther(@TempDir Path folder) throws Exception {
        Path result = folder.resolve("result");
        MeasureSession.run(new MeasureRequest(SESSION, result, null, null, 20, 20_000, false), Progress.SILENT);
        Path out = folder.resolve("rendered.wav");
        // Input as the manifest has it.
        AuditionTake.run(
                new AuditionRequest(
                        SESSION.resolve("take-1.wav"),
                        result.toString(),
                        new AuditionRequest.Side(Load.ofOhms(220, 0), 3300.0, 470),
                        new AuditionRequest.Side(Load.ofOhms(2200, 0), 3300.0, 470),
                        null,
                        false,
                        out,
                        null),
                Progress.SILENT);
        double[] rendered = Performance.read(out)[0];
        double[] other = Performance.read(SESSION.resolve("take-2.wav"))[0];
        RealFourier fourier = RealFourier.ofLength(2 * RealFourier.lengthFor(Math.max(rendered.length, other.length)));
        double[] a = Arrays.copyOf(rendered, fourier.length());
        double[] b = Arrays.copyOf(other, fourier.length());
        fourier.forward(a);
        fourier.forward(b);
        double shift = 2 * Math.PI * lag(fourier, a, b) / fourier.length();
        double off = 0;
        double all = 0;
        FrequencyBands bands = FrequencyBands.within(3, 50, 15_000);
        for (int band = 0; band < bands.size(); band++) {
            double powerA = 0;
            double powerB = 0;
            for (int i = bin(fourier, bands.lowerEdge(band)); i < bin(fourier, bands.upperEdge(band)); i++) {
                double cos = Math.cos(shift * i);
                double sin = Math.sin(shift * i);
                double re = fourier.re(b, i) * cos - fourier.im(b, i) * sin;
                double im = fourier.re(b, i) * sin + fourier.im(b, i) * cos;
                powerA += square(fourier.re(a, i), fourier.im(a, i));
                powerB += square(re, im);
                off += square(fourier.re(a, i) - re, fourier.im(a, i) - im);
            }
            all += powerB;
            assertThat(Math.abs(10 * Math.log10(powerA / powerB)))
                    .as("third octave at %s Hz", bands.midband(band))
                    .isLessThan(0.05);
        }
        // The noise of the two takes is in this too.
        assertThat(10 * Math.log10(off / all)).isLessThan(-49.5);
    }

    /** Samples by which the second is later, by circular correlation. */
    private static int lag(RealFourier fourier, double[] a, double[] b) {
        double[] product = new double[fourier.length()];
        for (int i = 1; i < fourier.length() / 2; i++) {
            product[2 * i] = fourier.re(a, i) * fourier.re(b, i) + fourier.im(a, i) * fourier.im(b, i);
            product[2 * i + 1] = fourier.re(a, i) * fourier.im(b, i) - fourier.im(a, i) * fourier.re(b, i);
        }
        fourier.inverse(product);
        int best = 0;
        for (int i = 0; i < product.length; i++) {
            best = product[i] > product[best] ? i : best;
        }
        return best;
    }

    private static int bin(RealFourier fourier, double hz) {
        return (int) Math.ceil(hz * fourier.length() / RATE);
    }

    private static double square(double re, double im) {
        return re * re + im * im;
    }
}
