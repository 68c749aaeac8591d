package ohmprint.library;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import org.jspecify.annotations.Nullable;

/**
 * A curve reduced to what is compared when a like one is sought: ln|Z| and its standard uncertainty at the midbands of
 * the 31 third octaves from 20 Hz to 20 kHz, interpolated between neighbouring bands over ln f, absent where the curve
 * says nothing. 248 bytes in the tables: single precision, little-endian, value and uncertainty in turn.
 */
public final class CurveSignature {
    /** The grid. */
    private static final FrequencyBands GRID = FrequencyBands.within(3, 19.9, 20_100);

    /**
     * Standard deviation of ln|Z| by which sound units of one model are taken to differ, 5 %: without it two curves
     * measured to 0.1 % would never be alike. Common practice, no source.
     */
    private static final double UNIT_TO_UNIT = 0.05;

    /** Fewest third octaves on which two curves are compared. */
    public static final int FEWEST_BANDS = 6;

    private static final double COVERAGE_FACTOR = 1.96;
    private static final float NONE = Float.NaN;

    private final float[] log;
    private final float[] uncertainty;

    private CurveSignature(float[] log, float[] uncertainty) {
        this.log = log;
        this.uncertainty = uncertainty;
    }

    /** The shape of a curve. */
    public static CurveSignature of(ImpedanceCurve curve) {
        return of(curve, true);
    }

    /**
     * Whether stored bytes are the shape of a curve. Programs of old took 95 % uncertainties over 1.96 for standard uncertainties;
     * what they stored is right as well.
     */
    static boolean isOf(ImpedanceCurve curve, byte @Nullable [] points) {
        return Arrays.equals(points, of(curve, true).encode())
                || Arrays.equals(points, of(curve, false).encode());
    }

    private static CurveSignature of(ImpedanceCurve curve, boolean byBudget) {
        List<double[]> known = new ArrayList<>();
        for (BandValue v : curve.values()) {
            double[] point = point(v, byBudget);
            if (point != null) {
                known.add(point);
            }
        }
        // Neighbouring bands, and not across a gap.
        double widest =
                1.01 * Math.log(FrequencyBands.OCTAVE_RATIO) / curve.bands().fraction();
        int n = GRID.size();
        float[] log = new float[n];
        float[] uncertainty = new float[n];
        for (int i = 0; i < n; i++) {
            log[i] = NONE;
            uncertainty[i] = NONE;
            double x = Math.log(GRID.midband(i));
            for (int k = 0; k < known.size(); k++) {
                double[] left = known.get(k);
                double[] right = known.get(Math.min(k + 1, known.size() - 1));
                double step = right[0] - left[0];
                boolean at = Math.abs(left[0] - x) < 1e-6;
                if (at || (left[0] < x && x < right[0] && step < widest)) {
                    double share = at ? 0 : (x - left[0]) / step;
                    log[i] = (float) (left[1] + share * (right[1] - left[1]));
                    uncertainty[i] = (float) (left[2] + share * (right[2] - left[2]));
                    break;
                }
            }
        }
        return new CurveSignature(log, uncertainty);
    }

    /** ln f, ln|Z| and the standard uncertainty of that; bounds count as a uniform distribution between them. */
    private static double @Nullable [] point(BandValue v, boolean byBudget) {
        double x = Math.log(v.frequencyHz());
        if (v.isMeasured() && v.magnitudeOhm() > 0) {
            BandBudget budget = v.budget();
            double ohm = !byBudget || budget == null || v.byDraws()
                    ? v.magnitudeU95Ohm() / COVERAGE_FACTOR
                    : budget.combined();
            double u = ohm / v.magnitudeOhm();
            return new double[] {x, Math.log(v.magnitudeOhm()), u >= 0 ? u : 0};
        }
        if (v.status() == BandStatus.INTERVAL && v.magnitudeLowOhm() > 0 && Double.isFinite(v.magnitudeHighOhm())) {
            double low = Math.log(v.magnitudeLowOhm());
            double high = Math.log(v.magnitudeHighOhm());
            return new double[] {x, (low + high) / 2, (high - low) / Math.sqrt(12)};
        }
        return null;
    }

    static CurveSignature decode(byte[] points) {
        ByteBuffer buffer = ByteBuffer.wrap(points).order(ByteOrder.LITTLE_ENDIAN);
        int n = GRID.size();
        float[] log = new float[n];
        float[] uncertainty = new float[n];
        for (int i = 0; i < n; i++) {
            log[i] = buffer.getFloat();
            uncertainty[i] = buffer.getFloat();
        }
        return new CurveSignature(log, uncertainty);
    }

    byte[] encode() {
        ByteBuffer buffer = ByteBuffer.allocate(GRID.size() * 2 * Float.BYTES).order(ByteOrder.LITTLE_ENDIAN);
        for (int i = 0; i < log.length; i++) {
            buffer.putFloat(log[i]).putFloat(uncertainty[i]);
        }
        return buffer.array();
    }

    /** True when encoded bytes have the right length. */
    static boolean isShape(byte[] points) {
        return points.length == GRID.size() * 2 * Float.BYTES;
    }

    /** Number of third octaves that have a value. */
    public int size() {
        int n = 0;
        for (float v : log) {
            n += Float.isNaN(v) ? 0 : 1;
        }
        return n;
    }

    /**
     * How unlike another curve is, or null when they share too few bands: fewer than six, or than half of what this one
     * has.
     *
     * <p>With d<sub>i</sub> the difference of ln|Z| and v<sub>i</sub> = u² + u'² + s² its variance, s being
     * {@link #UNIT_TO_UNIT}: the rank is the mean of d²/v + ln(v/s²), minus twice the log-likelihood per band, in which a
     * curve that is known only vaguely does not pass for a likeness; the distance is the root mean square of d/√v, and the
     * difference that of d.
     */
    @Nullable
    Closeness to(ByteBuffer other) {
        double rank = 0;
        double squares = 0;
        double plain = 0;
        int n = 0;
        int own = 0;
        double floor = UNIT_TO_UNIT * UNIT_TO_UNIT;
        for (int i = 0; i < log.length; i++) {
            if (Float.isNaN(log[i])) {
                continue;
            }
            own++;
            float theirs = other.getFloat(8 * i);
            if (Float.isNaN(theirs)) {
                continue;
            }
            double u = other.getFloat(8 * i + 4);
            double d = log[i] - theirs;
            double v = uncertainty[i] * uncertainty[i] + u * u + floor;
            rank += d * d / v + Math.log(v / floor);
            squares += d * d / v;
            plain += d * d;
            n++;
        }
        if (n < FEWEST_BANDS || 2 * n < own) {
            return null;
        }
        return new Closeness(rank / n, Math.sqrt(squares / n), Math.sqrt(plain / n), n);
    }

    /**
     * How close two shapes are.
     *
     * @param rank the lower, the more likely
     * @param distance root mean square of the differences in standard deviations
     * @param difference root mean square of the differences of ln|Z|
     * @param bands number of third octaves compared
     */
    record Closeness(double rank, double distance, double difference, int bands) {}
}
