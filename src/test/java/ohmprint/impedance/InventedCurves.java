package ohmprint.impedance;

import java.util.ArrayList;
import java.util.List;
import java.util.function.IntPredicate;

/** Curves that a formula gives, with the uncertainties of a plausible measurement. */
final class InventedCurves {
    private InventedCurves() {}

    interface Source {
        double[] at(double hz, double omega);
    }

    static ImpedanceCurve curve(
            int fraction, double fromHz, double toHz, IntPredicate rejected, boolean parallel, Source source) {
        FrequencyBands bands = FrequencyBands.within(fraction, fromHz, toHz);
        List<BandValue> values = new ArrayList<>();
        for (int i = 0; i < bands.size(); i++) {
            double f = bands.midband(i);
            if (rejected.test(i)) {
                values.add(BandValue.rejected(f, 2.5));
                continue;
            }
            double[] z = source.at(f, 2 * Math.PI * f);
            double modulus = Math.hypot(z[0], z[1]);
            double u = modulus * (0.006 + 0.02 * Math.exp(-f / 60));
            PlaneCovariance c = new PlaneCovariance(u * u, u * u / 2, u * u / 10);
            values.add(BandValue.complex(
                    f,
                    z[0],
                    z[1],
                    c,
                    1.96 * c.modulusUncertainty(z[0], z[1]),
                    1.96 * c.phaseUncertainty(z[0], z[1]),
                    52.25,
                    new BandBudget(u / 2, u / 3, u / 4, u / 5, u / 6)));
        }
        return new ImpedanceCurve(bands, values, parallel);
    }
}
