package ohmprint.impedance;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Covariance of a whole curve: causes that all bands share, and noise of each band for itself.
 *
 * <p>{@code cov(Z_a, Z_b) = Σ_causes d_a·d_bᵀ + (a = b) N_a} with d = (dR, dX) per standard deviation of the cause and N_a
 * the noise covariance of band a. With n causes this holds the covariance of B bands in 2nB + 3B numbers. Where low bands
 * borrow bins from each other their noise is in truth correlated with that of the next bands; that part is not held here.
 */
public final class CurveCovariance {
    private static final CrossCovariance NOTHING = new CrossCovariance(0, 0, 0, 0);

    private final List<SharedCause> causes;
    private final @Nullable PlaneCovariance[] noise;

    private CurveCovariance(List<SharedCause> causes, @Nullable PlaneCovariance[] noise) {
        this.causes = causes;
        this.noise = noise;
    }

    /**
     * Causes and noise of a curve.
     *
     * @param causes independent causes, each for the same bands
     * @param noise noise covariance of each band in Ω², null where the band holds no value
     * @throws IllegalArgumentException if a cause is for another number of bands, or unknown where the noise is known
     */
    public static CurveCovariance of(List<SharedCause> causes, List<? extends @Nullable PlaneCovariance> noise) {
        @Nullable PlaneCovariance[] own = noise.toArray(new PlaneCovariance[0]);
        for (SharedCause cause : causes) {
            if (cause.size() != own.length) {
                throw new IllegalArgumentException("the cause '" + cause.name() + "' is for " + cause.size()
                        + " bands, the noise for " + own.length + "; give every cause for every band");
            }
            for (int b = 0; b < own.length; b++) {
                if (own[b] != null && !Double.isFinite(cause.resistanceOhm(b) + cause.reactanceOhm(b))) {
                    throw new IllegalArgumentException("the effect of the cause '" + cause.name() + "' on band " + b
                            + " is not known although its noise is; give both or neither");
                }
            }
        }
        return new CurveCovariance(List.copyOf(causes), own);
    }

    /** Number of bands. */
    public int size() {
        return noise.length;
    }

    /** The shared causes. */
    public List<SharedCause> causes() {
        return causes;
    }

    /** Noise covariance of band {@code b} in Ω²; null where the band holds no value. */
    public @Nullable PlaneCovariance noise(int b) {
        return noise[b];
    }

    /**
     * Covariance of bands {@code a} and {@code b}; for a = b the whole covariance of that band.
     *
     * @return it in Ω², with NaN where one of the bands holds no value
     */
    public CrossCovariance between(int a, int b) {
        PlaneCovariance own = noise[a];
        if (own == null || noise[b] == null) {
            return new CrossCovariance(Double.NaN, Double.NaN, Double.NaN, Double.NaN);
        }
        CrossCovariance sum = NOTHING;
        for (SharedCause c : causes) {
            sum = sum.plusCause(c.resistanceOhm(a), c.reactanceOhm(a), c.resistanceOhm(b), c.reactanceOhm(b));
        }
        return a == b ? sum.plus(own) : sum;
    }

    /** Covariance of band {@code b} in Ω², or null where it holds no value. */
    public @Nullable PlaneCovariance of(int b) {
        if (noise[b] == null) {
            return null;
        }
        CrossCovariance c = between(b, b);
        return new PlaneCovariance(c.rr(), c.xx(), c.rx());
    }

    /** The same for other bands: the given indices, in their order. */
    public CurveCovariance only(int[] bands) {
        List<SharedCause> kept = new ArrayList<>();
        for (SharedCause c : causes) {
            double[] dR = new double[bands.length];
            double[] dX = new double[bands.length];
            for (int i = 0; i < bands.length; i++) {
                dR[i] = c.resistanceOhm(bands[i]);
                dX[i] = c.reactanceOhm(bands[i]);
            }
            kept.add(SharedCause.ofOhms(c.name(), c.origin(), dR, dX));
        }
        @Nullable PlaneCovariance[] own = new PlaneCovariance[bands.length];
        for (int i = 0; i < bands.length; i++) {
            own[i] = noise[bands[i]];
        }
        return new CurveCovariance(List.copyOf(kept), own);
    }
}
