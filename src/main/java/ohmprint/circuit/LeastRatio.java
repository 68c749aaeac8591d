package ohmprint.circuit;

import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.PredictedValue;
import org.apache.commons.math3.complex.Complex;

/**
 * How many times the source a load is, {@code |Z_L|/|Z|}, at the frequency of the range where it is least. The reciprocal
 * {@code |Z|·|Y|} is what is compared, because it is finite without a load, too.
 */
final class LeastRatio {
    private LeastRatio() {}

    /** The least ratio with its uncertainty; bounds where the band that decides has only those. */
    static PredictedValue of(LoadedCurve curve) {
        SourceCurve source = curve.source();
        List<PredictedValue> reciprocals = new ArrayList<>();
        for (int i = source.first(); i <= source.last(); i++) {
            SourceBand b = source.band(i);
            double y = curve.siemens(i).abs();
            reciprocals.add(
                    b.hasValue()
                            ? PredictedValue.of(b.ohms().abs() * y, reciprocalUncertainty(curve, i), b.hz())
                            : PredictedValue.between(b.lowOhm() * y, b.highOhm() * y, b.hz()));
        }
        PredictedValue worst = Extreme.greatest(reciprocals);
        return worst.isValue()
                ? new PredictedValue(
                        1 / worst.value(),
                        worst.u95() / (worst.value() * worst.value()),
                        Double.NaN,
                        Double.NaN,
                        worst.hz())
                : PredictedValue.between(1 / worst.high(), 1 / worst.low(), worst.hz());
    }

    /** Standard uncertainty of |Z|·|Y|: {@code |ZY|·Re(dZ/Z + dY/Y)}. */
    private static double reciprocalUncertainty(LoadedCurve curve, int i) {
        Complex z = curve.source().band(i).ohms();
        Complex y = curve.siemens(i);
        double product = z.abs() * y.abs();
        Sensitivities out = curve.nothing();
        if (curve.source().band(i).kind() == SourceBand.Kind.UNSIGNED) {
            out.addUnsigned(i, 0, y.abs());
        } else {
            out.addBand(i, z.reciprocal().multiply(product));
        }
        Complex[] effects = curve.effects(i);
        for (int l = 0; l < effects.length; l++) {
            out.addLoad(l, effects[l].divide(y).getReal() * product);
        }
        return out.standardUncertainty();
    }
}
