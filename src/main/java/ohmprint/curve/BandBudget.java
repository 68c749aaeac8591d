package ohmprint.curve;

/**
 * Standard uncertainties of |Z| in one band by origin, all in ohms; they add in quadrature.
 *
 * @param noise what is random from bin to bin: ambient noise, hum remnants, converter noise
 * @param drift gain changes between takes: source level, position, preamplifier
 * @param loads tolerance of the load resistors
 * @param input what is not known of the recording input and its cable
 * @param timing residual delay between takes
 */
public record BandBudget(double noise, double drift, double loads, double input, double timing) {
    /** Combined standard uncertainty in ohms: the root sum of squares. */
    public double combined() {
        return Math.sqrt(noise * noise + drift * drift + loads * loads + input * input + timing * timing);
    }

    /** The same with every part times a factor. */
    BandBudget times(double factor) {
        return new BandBudget(noise * factor, drift * factor, loads * factor, input * factor, timing * factor);
    }

    /** Part by part the sum, as of errors that act together. */
    BandBudget plus(BandBudget o) {
        return new BandBudget(noise + o.noise, drift + o.drift, loads + o.loads, input + o.input, timing + o.timing);
    }
}
