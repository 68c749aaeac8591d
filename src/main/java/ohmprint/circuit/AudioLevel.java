package ohmprint.circuit;

/**
 * Levels of the trade. 0 dBu is √0.6 V = 0.774597 V, the voltage of 1 mW across 600 Ω; sound pressure level is counted
 * from 20 µPa, so 1 Pa is 93.979 dB.
 */
public final class AudioLevel {
    /** 0 dBu in volts, √0.6. */
    public static final double DBU_VOLT = Math.sqrt(0.6);

    /** Reference sound pressure in pascals. */
    public static final double REFERENCE_PASCAL = 20e-6;

    private AudioLevel() {}

    /** {@code 20·lg(U/0.7746 V)} of a voltage in volts rms. */
    public static double dbu(double volt) {
        return 20 * Math.log10(volt / DBU_VOLT);
    }

    /** Volts rms of a level in dBu. */
    public static double volt(double dbu) {
        return DBU_VOLT * Math.pow(10, dbu / 20);
    }

    /** Pascals rms of a sound pressure level: {@code 20 µPa·10^(L/20)}. */
    public static double pascal(double splDb) {
        return REFERENCE_PASCAL * Math.pow(10, splDb / 20);
    }

    /** Sound pressure level in decibels of a pressure in pascals rms. */
    public static double splDb(double pascal) {
        return 20 * Math.log10(pascal / REFERENCE_PASCAL);
    }
}
