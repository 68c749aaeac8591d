package ohmprint.circuit;

import ohmprint.text.Numbers;

/**
 * White noise that an amplifier adds, referred to its input: a voltage in series and a current across it, independent of
 * each other. Into a source of impedance W its power density is {@code e² + i²·|W|²}.
 *
 * @param voltPerRootHz e in V/√Hz; NaN when it is not known
 * @param amperePerRootHz i in A/√Hz, 0 when it is not known
 */
public record InputNoise(double voltPerRootHz, double amperePerRootHz) {
    /** An amplifier about whose noise nothing is known. */
    public static final InputNoise UNKNOWN = new InputNoise(Double.NaN, 0);

    /** Band that equivalent input noise is quoted for, 20 Hz to 20 kHz, in hertz (common practice, no source). */
    public static final double QUOTED_BANDWIDTH_HZ = 20_000 - 20;

    /** Checks the ranges. */
    public InputNoise {
        if (voltPerRootHz < 0 || Double.isInfinite(voltPerRootHz)) {
            throw new IllegalArgumentException(
                    "a voltage noise of " + voltPerRootHz + " V/√Hz is not possible; give a value of 0 or more");
        }
        Quantity.notNegative("current noise", amperePerRootHz, "A/√Hz");
    }

    /** True when the voltage noise is known. */
    public boolean isKnown() {
        return !Double.isNaN(voltPerRootHz);
    }

    /**
     * From equivalent input noise, which holds the thermal noise of the resistor that it was measured with:
     * {@code e² = U²/B − 4kT·R_s − i²·R_s²}, B = 19.98 kHz.
     *
     * @param dbu equivalent input noise in dBu, unweighted
     * @param sourceOhm resistor R_s at the input, 0 for a short
     * @param amperePerRootHz current noise, 0 when it is not known; it then counts as voltage noise
     * @param kelvin temperature
     * @throws IllegalArgumentException if the noise is lower than what the resistor alone makes
     */
    public static InputNoise ofEquivalent(double dbu, double sourceOhm, double amperePerRootHz, double kelvin) {
        Quantity.notNegative("source of the equivalent input noise", sourceOhm, "Ω");
        double volt = AudioLevel.volt(dbu);
        double current = amperePerRootHz * sourceOhm;
        double least = ThermalNoise.density(sourceOhm, kelvin) + current * current;
        double square = volt * volt / QUOTED_BANDWIDTH_HZ - least;
        if (!(square >= 0)) {
            throw new IllegalArgumentException("an equivalent input noise of " + Numbers.brief(dbu)
                    + " dBu is below the "
                    + Numbers.brief(Math.round(10 * AudioLevel.dbu(Math.sqrt(least * QUOTED_BANDWIDTH_HZ))) / 10.0)
                    + " dBu that " + Numbers.brief(sourceOhm)
                    + " Ω at the input make without any amplifier; give the resistance that it was measured with, 0 for"
                    + " a short, and the unweighted value");
        }
        return new InputNoise(Math.sqrt(square), amperePerRootHz);
    }

    /**
     * This amplifier followed by another, as one:
     * {@code e² = e₁² + (e₂² + i₂²·R_out²)/g²}; the current noise is that of the first.
     *
     * @param gainDb gain of the first, as it is when it drives the second
     * @param outputOhm output resistance of the first
     * @param next noise of the second
     * @return unknown unless both are known
     */
    public InputNoise followedBy(double gainDb, double outputOhm, InputNoise next) {
        double current = next.amperePerRootHz * outputOhm;
        double second = (next.voltPerRootHz * next.voltPerRootHz + current * current) / Math.pow(10, gainDb / 10);
        return new InputNoise(Math.sqrt(voltPerRootHz * voltPerRootHz + second), amperePerRootHz);
    }

    /** Power density in V²/Hz across a source of this impedance in ohms, NaN when unknown. */
    double density(double sourceOhm) {
        double current = amperePerRootHz * sourceOhm;
        return voltPerRootHz * voltPerRootHz + current * current;
    }
}
