package ohmprint.circuit.fit;

import java.util.ArrayList;
import java.util.List;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SharedCause;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.complex.Complex;

/**
 * What a curve holds for a fit: two numbers per band, each divided by its standard deviation.
 *
 * <p>With phase these are the parts of the deviation along Z and across it; without phase |Z| and R. The standard deviation
 * is that of the band's noise, at least {@value #FLOOR} of |Z|: no microphone is that close to a circuit of a few parts. What
 * all bands share, made wider where it rests on few observations so that 1.96 of it are what the curve states, is kept apart, as the shift that one standard deviation of a cause makes in every number: the curve's own
 * causes, or where it does not state them what the covariance holds beyond noise.
 */
final class Points {
    /** Least relative standard deviation of a band. */
    static final double FLOOR = 2e-4;

    /** R of a curve without phase is taken to be known half as well as |Z|, which alone has a stated uncertainty. */
    private static final double R_TO_MAGNITUDE = 2;

    private final ImpedanceCurve curve;
    private final List<BandValue> bands = new ArrayList<>();
    private final List<Integer> places = new ArrayList<>();
    private final boolean phase;

    /** The bands of a curve that hold a value: those with phase, or if there are none those without. */
    Points(ImpedanceCurve curve) {
        List<BandValue> measured = curve.values().stream()
                .filter(v -> v.isMeasured() && v.magnitudeOhm() > 0)
                .toList();
        phase = measured.stream().anyMatch(v -> Double.isFinite(v.reactanceOhm()));
        this.curve = curve;
        for (int i = 0; i < curve.values().size(); i++) {
            BandValue v = curve.values().get(i);
            if (measured.contains(v) && Double.isFinite(phase ? v.reactanceOhm() : v.resistanceOhm())) {
                bands.add(v);
                places.add(i);
            }
        }
    }

    /** Number of bands. */
    int bands() {
        return bands.size();
    }

    /** Number of residuals: two per band. */
    int size() {
        return 2 * bands.size();
    }

    /** Whether the phase is known. */
    boolean phase() {
        return phase;
    }

    /** Midband in hertz. */
    double hz(int band) {
        return bands.get(band).frequencyHz();
    }

    /** Z in ohms; without phase the reactance √(|Z|² − R²), whose sign is not known. */
    Complex ohms(int band) {
        BandValue v = bands.get(band);
        double square = v.magnitudeOhm() * v.magnitudeOhm() - v.resistanceOhm() * v.resistanceOhm();
        return new Complex(v.resistanceOhm(), phase ? v.reactanceOhm() : Math.sqrt(Math.max(0, square)));
    }

    /**
     * Weighted deviation of a circuit from a band.
     *
     * @param z what the circuit is there, ohms
     * @param into gets the two residuals at 2·band and 2·band + 1
     */
    void residuals(int band, Complex z, double[] into) {
        BandValue v = bands.get(band);
        double u = deviation(band);
        if (phase) {
            Complex off = turned(v, z.subtract(ohms(band)));
            into[2 * band] = off.getReal() / u;
            into[2 * band + 1] = off.getImaginary() / u;
        } else {
            into[2 * band] = (z.abs() - v.magnitudeOhm()) / u;
            into[2 * band + 1] = (z.getReal() - v.resistanceOhm()) / (R_TO_MAGNITUDE * u);
        }
    }

    /** Derivatives of {@link #residuals} by one parameter, {@code slope = dZ/dp} where the circuit is z. */
    void slopes(int band, Complex z, Complex slope, double[][] into, int parameter) {
        BandValue v = bands.get(band);
        double u = deviation(band);
        if (phase) {
            Complex turned = turned(v, slope);
            into[2 * band][parameter] = turned.getReal() / u;
            into[2 * band + 1][parameter] = turned.getImaginary() / u;
        } else {
            into[2 * band][parameter] = z.conjugate().multiply(slope).getReal() / z.abs() / u;
            into[2 * band + 1][parameter] = slope.getReal() / (R_TO_MAGNITUDE * u);
        }
    }

    /** For each cause that all bands share the shift of all residuals by one standard deviation of it. */
    double[][] common() {
        CurveCovariance covariance = curve.covariance();
        return covariance == null || !phase ? assumedCommon() : stated(covariance);
    }

    private double[][] stated(CurveCovariance covariance) {
        List<SharedCause> causes = covariance.causes();
        double[][] out = new double[causes.size()][size()];
        for (int c = 0; c < causes.size(); c++) {
            for (int band = 0; band < bands.size(); band++) {
                int place = places.get(band);
                double[] wide = bands.get(band)
                        .widening()
                        .of(causes.get(c).resistanceOhm(place), causes.get(c).reactanceOhm(place));
                Complex shift = turned(bands.get(band), new Complex(wide[0], wide[1]));
                double u = deviation(band);
                out[c][2 * band] = shift.getReal() / u;
                out[c][2 * band + 1] = shift.getImaginary() / u;
            }
        }
        return out;
    }

    /** Where the causes are not stated: two, along and across Z, that hold what the covariance has beyond noise. */
    private double[][] assumedCommon() {
        double[][] out = new double[2][size()];
        for (int band = 0; band < bands.size(); band++) {
            BandValue v = bands.get(band);
            double u = deviation(band);
            double noise = noise(band);
            PlaneCovariance stored = v.covariance();
            PlaneCovariance c = stored == null ? null : v.widening().of(stored);
            if (c == null) {
                BandBudget budget = v.budget();
                double stated = v.magnitudeU95Ohm() / CoverageFactor.NORMAL;
                double total = budget == null ? stated : Math.max(stated, budget.combined());
                double shift = Math.sqrt(Math.max(0, total * total - noise * noise));
                out[0][2 * band] = shift / u;
                out[0][2 * band + 1] = shift * v.resistanceOhm() / v.magnitudeOhm() / (R_TO_MAGNITUDE * u);
                continue;
            }
            double cos = v.resistanceOhm() / v.magnitudeOhm();
            double sin = v.reactanceOhm() / v.magnitudeOhm();
            double along = cos * cos * c.varR() + 2 * cos * sin * c.covRX() + sin * sin * c.varX() - noise * noise;
            double across = sin * sin * c.varR() - 2 * cos * sin * c.covRX() + cos * cos * c.varX() - noise * noise;
            double both = (cos * cos - sin * sin) * c.covRX() + cos * sin * (c.varX() - c.varR());
            double first = Math.sqrt(Math.max(0, along));
            double most = Math.sqrt(Math.max(0, across));
            double shared = first > 0 ? Math.max(-most, Math.min(most, both / first)) : 0;
            out[0][2 * band] = first / u;
            out[0][2 * band + 1] = shared / u;
            out[1][2 * band + 1] = Math.sqrt(Math.max(0, most * most - shared * shared)) / u;
        }
        return out;
    }

    /** Turned so that the real part lies along Z. */
    private static Complex turned(BandValue v, Complex off) {
        return off.multiply(new Complex(v.resistanceOhm(), -v.reactanceOhm())
                .divide(Math.hypot(v.resistanceOhm(), v.reactanceOhm())));
    }

    private double deviation(int band) {
        return Math.max(noise(band), FLOOR * bands.get(band).magnitudeOhm());
    }

    /** Standard deviation of R or X by noise; of a curve that does not split its uncertainty, all of it. */
    private double noise(int band) {
        BandValue v = bands.get(band);
        CurveCovariance covariance = curve.covariance();
        PlaneCovariance noise = covariance == null || !phase ? null : covariance.noise(places.get(band));
        if (noise != null) {
            return Math.sqrt((noise.varR() + noise.varX()) / 2);
        }
        BandBudget budget = v.budget();
        return budget == null ? v.magnitudeU95Ohm() / CoverageFactor.NORMAL : budget.noise();
    }
}
