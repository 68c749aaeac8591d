package ohmprint.circuit;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.random.RandomGenerator;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Microphone;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.Provenance;
import ohmprint.impedance.Route;
import ohmprint.impedance.Usability;
import org.apache.commons.math3.complex.Complex;

/** Curves of circuits with known values: exact, or with noise that the curve states as it is. */
public final class ModelCurves {
    private ModelCurves() {}

    /** Without noise. */
    public static ImpedanceCurve exact(SourceModel source, FrequencyBands bands) {
        return noisy(source, bands, 0, 0);
    }

    /**
     * With circular noise in each band.
     *
     * @param relative root mean square of the complex error over |Z|: 0.001 is 60 dB
     */
    public static ImpedanceCurve noisy(SourceModel source, FrequencyBands bands, double relative, long seed) {
        RandomGenerator random = new SplittableRandom(seed);
        List<BandValue> values = new ArrayList<>();
        for (double hz : bands.midbands()) {
            Complex z = source.impedance(hz);
            double u = relative * z.abs() / Math.sqrt(2);
            values.add(BandValue.complex(
                    hz,
                    z.getReal() + u * random.nextGaussian(),
                    z.getImaginary() + u * random.nextGaussian(),
                    PlaneCovariance.circular(u),
                    1.96 * u,
                    1.96 * u / z.abs(),
                    60,
                    new BandBudget(u, 0, 0, 0, 0)));
        }
        return new ImpedanceCurve(bands, values, false);
    }

    /** A measurement that holds a curve. */
    public static Measurement measurement(String label, String transducer, ImpedanceCurve curve) {
        return new Measurement(
                new Microphone(label, null, null, null, transducer, null, null, null),
                curve,
                Route.STIMULUS,
                "the file that was played was found in the takes",
                Usability.USABLE,
                List.of(),
                new Provenance("0.0.7", Instant.EPOCH, "3000 Ω ± 5 %", List.of(), null));
    }
}
