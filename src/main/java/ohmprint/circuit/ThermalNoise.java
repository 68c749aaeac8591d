package ohmprint.circuit;

/** Noise of a resistance at a temperature: {@code U = √(4kT·R·B)}. Source: Nyquist, Phys. Rev. 32 (1928). */
public final class ThermalNoise {
    /** Boltzmann's constant in J/K, exact. */
    public static final double BOLTZMANN = 1.380649e-23;

    /** 0 °C in kelvins. */
    public static final double ZERO_CELSIUS = 273.15;

    private ThermalNoise() {}

    /** Power density {@code 4kT·R} in V²/Hz. */
    public static double density(double ohm, double kelvin) {
        return 4 * BOLTZMANN * kelvin * ohm;
    }
}
