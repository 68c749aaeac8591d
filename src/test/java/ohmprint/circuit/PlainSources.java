package ohmprint.circuit;

import java.util.ArrayList;
import java.util.List;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import org.apache.commons.math3.complex.Complex;

/** Sources whose impedance is the same in all bands, and inputs that are resistors. */
final class PlainSources {
    static final double TOLERANCE_DB = 1e-9;

    private PlainSources() {}

    static InputImpedance ohms(double ohm) {
        return InputImpedance.ofOhms(ohm, 0);
    }

    static ImpedanceCurve constant(int fraction, Complex z, PlaneCovariance covariance) {
        FrequencyBands bands = FrequencyBands.within(fraction, 20, 20_000);
        List<BandValue> values = new ArrayList<>();
        for (double f : bands.midbands()) {
            values.add(BandValue.complex(
                    f, z.getReal(), z.getImaginary(), covariance, 0, 0, 60, new BandBudget(0, 0, 0, 0, 0)));
        }
        return new ImpedanceCurve(bands, values, false);
    }

    static SourceCurve resistor(double ohm) {
        return SourceCurve.of(constant(12, new Complex(ohm), PlaneCovariance.ZERO), 20, 20_000);
    }
}
