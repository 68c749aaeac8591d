package ohmprint.circuit;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import ohmprint.circuit.SourceCurve.SourceBand;
import ohmprint.impedance.PredictedValue;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * A measured source and a load: what the load takes away. Nothing but arithmetic on the bands, fast enough to follow a
 * slider.
 *
 * <pre>{@code
 * T = Z_L/(Z + Z_L) = 1/(1 + Z·Y)     loss L = −20·lg|T| = 20·lg|1 + Z·Y| in dB, positive when voltage is lost
 * response change re 1 kHz:           Δ(f) = L(1 kHz) − L(f), positive where more gets through than at 1 kHz
 * tilt:                               greatest Δ − least Δ over the bands of the range = greatest L − least L
 * }</pre>
 *
 * <p>A band of which only bounds of |Z| are known, with R of 0 or more, gives bounds of the loss. Where the sign of X is not
 * known and the load has a susceptance, the loss is the mean of the two that are possible, and half their difference is a
 * standard uncertainty of it: two values, equally likely.
 */
public final class LoadedCurve {
    private static final double DB_PER_NEPER = 20 / Math.log(10);

    private final SourceCurve source;
    private final Complex[] siemens;
    private final Complex[][] effects;
    private final Complex referenceSiemens;
    private final Complex[] referenceEffects;
    private final List<PredictedValue> losses;
    private @Nullable List<PredictedValue> changes;

    private LoadedCurve(
            SourceCurve source,
            Complex[] siemens,
            Complex[][] effects,
            Complex referenceSiemens,
            Complex[] referenceEffects) {
        this.source = source;
        this.siemens = siemens;
        this.effects = effects;
        this.referenceSiemens = referenceSiemens;
        this.referenceEffects = referenceEffects;
        this.losses = IntStream.rangeClosed(source.first(), source.last())
                .mapToObj(this::loss)
                .toList();
    }

    /**
     * A source with a load.
     *
     * @param source the source
     * @param load the input, cable and feeds included
     * @throws IllegalArgumentException if the load is not known at a frequency of the range, or at 1 kHz
     */
    public static LoadedCurve of(SourceCurve source, InputImpedance load) {
        int n = source.size();
        Complex[] siemens = new Complex[n];
        Complex[][] effects = new Complex[n][];
        for (int i = source.first(); i <= source.last(); i++) {
            double f = source.band(i).hz();
            siemens[i] = load.admittance(f);
            effects[i] = load.standardEffects(f).toArray(Complex[]::new);
        }
        double f = source.reference().hz();
        boolean needed = source.hasReference();
        return new LoadedCurve(
                source,
                siemens,
                effects,
                needed ? load.admittance(f) : Complex.ZERO,
                needed ? load.standardEffects(f).toArray(Complex[]::new) : new Complex[0]);
    }

    /** The source with nothing across it. */
    static LoadedCurve open(SourceCurve source) {
        return of(source, InputImpedance.unknown());
    }

    SourceCurve source() {
        return source;
    }

    /** Y across band i of the source. */
    Complex siemens(int i) {
        return siemens[i];
    }

    /** What the influences of the load do to Y in band i. */
    Complex[] effects(int i) {
        return effects[i];
    }

    private int influences() {
        return Math.max(effects[source.first()].length, referenceEffects.length);
    }

    /** Sensitivities of a result, all zero yet. */
    Sensitivities nothing() {
        return new Sensitivities(source, influences());
    }

    private PredictedValue loss(int i) {
        return loss(source.band(i), siemens[i], () -> sensitivities(i));
    }

    private static PredictedValue loss(SourceBand band, Complex y, Supplier<Sensitivities> slopes) {
        return switch (band.kind()) {
            case BOUNDS -> lossBounds(band, y);
            case NOTHING -> PredictedValue.none(band.hz());
            case COMPLEX, UNSIGNED ->
                PredictedValue.of(
                        Divider.lossDb(band.ohms(), y) + halfBySign(band, y),
                        slopes.get().standardUncertainty(),
                        band.hz());
        };
    }

    /**
     * Bounds of the loss where only bounds of |Z| are known. With {@code |Z| = m}, R of 0 or more, {@code Y = |Y|·e^{jθ}} and Z
     * at any angle φ from −90° to 90°, {@code |1 + ZY|² = 1 + 2·m|Y|·cos(θ + φ) + m²|Y|²}.
     */
    static PredictedValue lossBounds(SourceBand band, Complex y) {
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

    /** Half the difference that the sign of X makes, in decibels; 0 where it is known. */
    private static double halfBySign(SourceBand band, Complex y) {
        return band.kind() == SourceBand.Kind.UNSIGNED
                ? (Divider.lossDb(band.ohms().conjugate(), y) - Divider.lossDb(band.ohms(), y)) / 2
                : 0;
    }

    /** Slopes of the loss of a band: {@code dL = (20/ln 10)·Re[(Y·dZ + Z·dY)/(1 + ZY)]}. */
    private Sensitivities sensitivities(int i) {
        Sensitivities out = nothing();
        Complex z = source.band(i).ohms();
        Complex scale = z.multiply(siemens[i]).add(1).reciprocal().multiply(DB_PER_NEPER);
        addSource(out, i, source.band(i), siemens[i], 1);
        out.addSign(i, halfBySign(source.band(i), siemens[i]));
        for (int l = 0; l < effects[i].length; l++) {
            out.addLoad(l, z.multiply(scale).multiply(effects[i][l]).getReal());
        }
        return out;
    }

    /**
     * Adds the slopes by the source of a share of a loss. Where the sign of X is not known, the mean of both is the loss of
     * {@code |1 + ZY|² = 1 + 2R·Re Y + |Z|²|Y|²}, so that {@code dL = (20/ln 10)·(Re Y·dR + |Z||Y|²·d|Z|)/|1 + ZY|²}.
     */
    private static void addSource(Sensitivities out, int i, SourceBand band, Complex y, double share) {
        Complex z = band.ohms();
        if (band.kind() == SourceBand.Kind.UNSIGNED) {
            double y2 = y.abs() * y.abs();
            double power = 1 + 2 * z.getReal() * y.getReal() + z.abs() * z.abs() * y2;
            double scale = share * DB_PER_NEPER / power;
            out.addUnsigned(i, scale * y.getReal(), scale * z.abs() * y2);
            return;
        }
        out.addBand(i, y.divide(z.multiply(y).add(1)).multiply(share * DB_PER_NEPER));
    }

    /** Slopes of the loss at 1 kHz. */
    Sensitivities referenceSensitivities() {
        Sensitivities out = nothing();
        Complex z = source.reference().ohms();
        Complex scale = z.multiply(referenceSiemens).add(1).reciprocal().multiply(DB_PER_NEPER);
        int below = source.referenceBand();
        out.addSign(below, halfBySign(source.reference(), referenceSiemens));
        for (int i = below; i < Math.min(below + 2, source.size()); i++) {
            double share = source.shareAtReference(i);
            if (share > 0) {
                addSource(out, i, source.reference(), referenceSiemens, share);
            }
        }
        for (int l = 0; l < referenceEffects.length; l++) {
            out.addLoad(l, z.multiply(scale).multiply(referenceEffects[l]).getReal());
        }
        return out;
    }

    /** Loss in decibels per band of the range, ascending; nothing for a rejected band. */
    public List<PredictedValue> losses() {
        return losses;
    }

    /** Loss at 1 kHz in decibels; nothing when the curve does not hold 1 kHz. */
    public PredictedValue lossAtReference() {
        return loss(source.reference(), referenceSiemens, this::referenceSensitivities);
    }

    /** Response change re 1 kHz in decibels, per band of the range; nothing without 1 kHz. */
    public List<PredictedValue> changes() {
        List<PredictedValue> known = changes;
        if (known == null) {
            known = allChanges();
            changes = known;
        }
        return known;
    }

    private List<PredictedValue> allChanges() {
        PredictedValue reference = lossAtReference();
        Sensitivities byReference = referenceSensitivities();
        List<PredictedValue> out = new ArrayList<>();
        for (int k = 0; k < losses.size(); k++) {
            PredictedValue loss = losses.get(k);
            if (loss.isValue() && reference.isValue()) {
                Sensitivities change = sensitivities(source.first() + k).plus(byReference, -1);
                out.add(PredictedValue.of(reference.value() - loss.value(), change.standardUncertainty(), loss.hz()));
            } else {
                out.add(PredictedValue.between(
                        reference.least() - loss.most(), reference.most() - loss.least(), loss.hz()));
            }
        }
        return List.copyOf(out);
    }

    /** The greatest loss of the range in decibels, and where. */
    public PredictedValue worstLoss() {
        return Extreme.greatest(losses);
    }

    /** The least loss of the range in decibels, and where. */
    public PredictedValue leastLoss() {
        return Extreme.least(losses);
    }

    /** The tilt in decibels, at the frequency of the greatest loss. */
    public PredictedValue tilt() {
        PredictedValue most = worstLoss();
        PredictedValue least = leastLoss();
        if (most.isValue() && least.isValue()) {
            Sensitivities difference = sensitivities(source.first() + Extreme.indexOfGreatest(losses))
                    .plus(sensitivities(source.first() + Extreme.indexOfLeast(losses)), -1);
            return PredictedValue.of(most.value() - least.value(), difference.standardUncertainty(), most.hz());
        }
        return PredictedValue.between(Math.max(0, most.least() - least.most()), most.most() - least.least(), most.hz());
    }

    /** The response change that is farthest from 0, with its sign, in decibels; nothing without 1 kHz. */
    public PredictedValue largestChange() {
        PredictedValue best = PredictedValue.none(Double.NaN);
        for (PredictedValue change : changes()) {
            double reach = Math.max(Math.abs(change.least()), Math.abs(change.most()));
            double so = Math.max(Math.abs(best.least()), Math.abs(best.most()));
            if (!Double.isNaN(reach) && !(reach <= so)) {
                best = change;
            }
        }
        return best;
    }

    /**
     * The least ratio {@code |Z_L|/|Z|} of the range with its uncertainty, and where; bounds where the band that decides has
     * only those. The rule of ten times wants 10 or more. The reciprocal {@code |Z|·|Y|} is what is compared, because it is
     * finite without a load, too.
     */
    public PredictedValue leastRatio() {
        List<PredictedValue> reciprocals = new ArrayList<>();
        for (int i = source.first(); i <= source.last(); i++) {
            SourceBand b = source.band(i);
            double y = siemens[i].abs();
            reciprocals.add(
                    b.hasValue()
                            ? PredictedValue.of(b.ohms().abs() * y, reciprocalUncertainty(i), b.hz())
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
    private double reciprocalUncertainty(int i) {
        Complex z = source.band(i).ohms();
        Complex y = siemens[i];
        double product = z.abs() * y.abs();
        Sensitivities out = nothing();
        if (source.band(i).kind() == SourceBand.Kind.UNSIGNED) {
            out.addUnsigned(i, 0, y.abs());
        } else {
            out.addBand(i, z.reciprocal().multiply(product));
        }
        for (int l = 0; l < effects[i].length; l++) {
            out.addLoad(l, effects[i][l].divide(y).getReal() * product);
        }
        return out.standardUncertainty();
    }
}
