package ohmprint.circuit;

import java.util.List;
import ohmprint.circuit.AddedInput.CabledInput;
import ohmprint.circuit.AddedInput.PhantomFedInput;
import org.apache.commons.math3.complex.Complex;

/**
 * The recording input with its cable, always in parallel with the load.
 *
 * <p>Leaving it out returns {@code Z ∥ Z_in} instead of Z. It therefore has to be stated, even if only as unknown; the
 * result of an unknown input is that parallel combination and has to be labelled so.
 */
public sealed interface InputImpedance permits StatedInput, MeasuredInput, UnknownInput, AddedInput {
    /**
     * A resistance in parallel with a capacitance.
     *
     * @param ohm R_in in ohms, positive and finite
     * @param tolerancePercent its tolerance in percent, from 0 to below 100
     * @param capacitancePf C_in with the cable, in picofarads, 0 or more
     * @param capacitanceTolerancePercent its tolerance in percent, from 0 to below 100
     * @throws IllegalArgumentException if a value is outside its range
     */
    static InputImpedance ofOhms(
            double ohm, double tolerancePercent, double capacitancePf, double capacitanceTolerancePercent) {
        return new StatedInput(ohm, tolerancePercent, capacitancePf, capacitanceTolerancePercent);
    }

    /** A resistance in ohms with a tolerance in percent, and no capacitance. */
    static InputImpedance ofOhms(double ohm, double tolerancePercent) {
        return new StatedInput(ohm, tolerancePercent, 0, 0);
    }

    /** An input about which nothing is known: what is measured is the source in parallel with it. */
    static InputImpedance unknown() {
        return new UnknownInput(0, 0);
    }

    /**
     * An input of unknown resistance with a known capacitance: what is measured is the source in parallel with R_in.
     *
     * @param capacitancePf C_in with the cable, in picofarads, 0 or more
     * @param capacitanceTolerancePercent its tolerance in percent, from 0 to below 100
     */
    static InputImpedance unknownResistance(double capacitancePf, double capacitanceTolerancePercent) {
        return new UnknownInput(capacitancePf, capacitanceTolerancePercent);
    }

    /**
     * An input impedance measured at several frequencies. Its admittance is interpolated linearly over ln f, real and
     * imaginary part each for itself.
     *
     * @param hz frequencies in hertz, positive and strictly ascending, two or more
     * @param ohms impedance at each, in ohms, not zero
     * @param relativeStandardUncertainty standard uncertainty of the impedance at each, relative to its modulus, from 0
     *     to below 1, the same for the real and the imaginary part of the relative deviation
     * @throws IllegalArgumentException if lengths differ or a value is outside its range
     */
    static InputImpedance ofCurve(double[] hz, Complex[] ohms, double[] relativeStandardUncertainty) {
        return new MeasuredInput(hz, ohms, relativeStandardUncertainty);
    }

    /**
     * Y_in in siemens; for an unknown input 0, or jωC_in where that is known.
     *
     * @param hz frequency in hertz, 0 or more
     * @throws IllegalArgumentException if the frequency is outside {@link #lowestHz()} to {@link #highestHz()}
     */
    Complex admittance(double hz);

    /** False when nothing is known about the input, so that a result is Z ∥ Z_in. */
    default boolean isKnown() {
        return true;
    }

    /**
     * What one standard deviation of each independent influence changes in Y_in, in siemens. Each influence moves the
     * admittance of all frequencies together; the number and order of influences is the same at every frequency, so an
     * influence may be used as one nuisance parameter p ~ N(0, 1): {@code Y_in(f, p) ≈ Y_in(f) + Σ p_i·effect_i(f)}.
     *
     * @param hz frequency in hertz, within the range of the input
     */
    List<Complex> standardEffects(double hz);

    /** What each influence of {@link #standardEffects} is, in words and in the same order. */
    List<String> influences();

    /**
     * Whether an influence is a tolerance, so that its values are equally likely within ±√3 standard deviations and none lies
     * beyond; otherwise it was measured and is normally distributed.
     *
     * @param influence index into {@link #influences}
     */
    default boolean isTolerance(int influence) {
        return true;
    }

    /** Lowest frequency in hertz at which the admittance is known. */
    default double lowestHz() {
        return 0;
    }

    /** Highest frequency in hertz at which the admittance is known; may be infinite. */
    default double highestHz() {
        return Double.POSITIVE_INFINITY;
    }

    /** For captions, such as {@code 3000 Ω ± 5 % ∥ 470 pF}. */
    String label();

    /**
     * This input in parallel with the two 6.81 kΩ feed resistors of a 48 V phantom supply, 13.62 kΩ across the line.
     *
     * <p>Whether a quoted input impedance contains them already differs from maker to maker: ask, do not assume. An
     * unknown input stays unknown. Source: common practice for the resistors of IEC 61938 supplies, no source.
     */
    default InputImpedance withPhantomFeeds() {
        return isKnown() ? new PhantomFedInput(this) : this;
    }

    /**
     * This input behind a cable.
     *
     * @param metres its length
     * @param pfPerMetre capacitance between its conductors in picofarads per metre
     * @param tolerancePercent tolerance of that capacitance in percent
     */
    default InputImpedance withCable(double metres, double pfPerMetre, double tolerancePercent) {
        return new CabledInput(this, metres, pfPerMetre, tolerancePercent);
    }
}
