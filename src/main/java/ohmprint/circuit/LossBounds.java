package ohmprint.circuit;

import ohmprint.curve.PredictedValue;
import org.apache.commons.math3.complex.Complex;

/**
 * Bounds of the loss where only bounds of |Z| are known. With {@code |Z| = m}, R of 0 or more, {@code Y = |Y|·e^{jθ}} and Z
 * at any angle φ from −90° to 90°, {@code |1 + ZY|² = 1 + 2·m|Y|·cos(θ + φ) + m²|Y|²}.
 */
final class LossBounds {
    private LossBounds() {}

    static PredictedValue of(SourceBand band, Complex y) {
        double modulus = y.abs();
        if (modulus == 0) {
            return PredictedValue.of(0, 0, band.hz());
        }
        // The angle of Z that takes most from the sum turns ZY as far from 0 as it can; the one that adds most turns it
        // to 0.
        double farthest = -Math.abs(y.getImaginary()) / modulus;
        double low = band.lowOhm() * modulus;
        double high = band.highOhm() * modulus;
        double least = Math.min(high, Math.max(low, -farthest));
        double lowest = 1 + 2 * least * farthest + least * least;
        return PredictedValue.between(10 * Math.log10(lowest), 20 * Math.log10(1 + high), band.hz());
    }
}
