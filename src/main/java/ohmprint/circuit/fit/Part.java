package ohmprint.circuit.fit;

import java.util.List;
import org.apache.commons.math3.complex.Complex;

/**
 * A network of two pins. Its values are kept as parameters without bounds: logarithms of ohms, henries, farads and hertz.
 */
sealed interface Part
        permits Part.Resistor, Part.Inductor, Part.Capacitor, Part.LossyInductor, Part.Tuned, Series, Parallel {
    /** What is stated about it, one entry per parameter. */
    List<Value> values();

    /**
     * Impedance and its derivatives.
     *
     * @param omega angular frequency in rad/s
     * @param p parameters of the whole circuit
     * @param at index of the first that is this part's
     * @param slopes gets dZ/dp at the indices of this part's parameters
     * @return Z in ohms
     */
    Complex impedance(double omega, double[] p, int at, Complex[] slopes);

    /** Number of parameters. */
    default int size() {
        return values().size();
    }

    /** A resistor of e^p ohms. */
    record Resistor(String name) implements Part {
        @Override
        public List<Value> values() {
            return List.of(Value.positive(name + "_ohm", "Ω", 0));
        }

        @Override
        public Complex impedance(double omega, double[] p, int at, Complex[] slopes) {
            Complex z = new Complex(Math.exp(p[at]));
            slopes[at] = z;
            return z;
        }
    }

    /** An inductor of e^p henries. */
    record Inductor(String name) implements Part {
        @Override
        public List<Value> values() {
            return List.of(Value.positive(name + "_henry", "H", 0));
        }

        @Override
        public Complex impedance(double omega, double[] p, int at, Complex[] slopes) {
            Complex z = new Complex(0, omega * Math.exp(p[at]));
            slopes[at] = z;
            return z;
        }
    }

    /** A capacitor of e^p farads. */
    record Capacitor(String name) implements Part {
        @Override
        public List<Value> values() {
            return List.of(Value.positive(name + "_farad", "F", 0));
        }

        @Override
        public Complex impedance(double omega, double[] p, int at, Complex[] slopes) {
            Complex z = new Complex(0, -1 / (omega * Math.exp(p[at])));
            slopes[at] = z.negate();
            return z;
        }
    }

    /**
     * {@code Z = M·(jω/ω₁)^n} with ω₁ at 1 kHz, M = e^p and n = 1/(1 + e^−q): an inductor with eddy-current loss. M rather
     * than K = M/ω₁^n is fitted because K and n would hardly be told apart.
     */
    record LossyInductor() implements Part {
        /** ω₁ in rad/s. */
        static final double REFERENCE = 2000 * Math.PI;

        @Override
        public List<Value> values() {
            return List.of(
                    new Value(
                            "inductor_k",
                            "Ω·(s/rad)^n",
                            true,
                            (p, at) -> Math.exp(p[at]) / Math.pow(REFERENCE, exponent(p[at + 1]))),
                    new Value("inductor_exponent", "", false, (p, at) -> exponent(p[at + 1])));
        }

        static double exponent(double q) {
            return 1 / (1 + Math.exp(-q));
        }

        @Override
        public Complex impedance(double omega, double[] p, int at, Complex[] slopes) {
            double n = exponent(p[at + 1]);
            double modulus = Math.exp(p[at]) * Math.pow(omega / REFERENCE, n);
            Complex z = new Complex(modulus * Math.cos(n * Math.PI / 2), modulus * Math.sin(n * Math.PI / 2));
            slopes[at] = z;
            slopes[at + 1] = z.multiply(new Complex(Math.log(omega / REFERENCE), Math.PI / 2))
                    .multiply(n * (1 - n));
            return z;
        }
    }

    /** A resonance {@code Z = R/(1 + jQ(f/f₀ − f₀/f))}: height, frequency and quality e^p each. */
    record Tuned(String name) implements Part {
        @Override
        public List<Value> values() {
            return List.of(
                    Value.positive(name + "_ohm", "Ω", 0),
                    Value.positive(name + "_hz", "Hz", 1),
                    Value.positive(name + "_q", "", 2));
        }

        @Override
        public Complex impedance(double omega, double[] p, int at, Complex[] slopes) {
            double r = Math.exp(p[at]);
            double x = omega / (2 * Math.PI * Math.exp(p[at + 1]));
            double q = Math.exp(p[at + 2]);
            Complex z = new Complex(1, q * (x - 1 / x)).reciprocal().multiply(r);
            Complex square = z.multiply(z).multiply(1 / r);
            slopes[at] = z;
            slopes[at + 1] = square.multiply(new Complex(0, q * (x + 1 / x)));
            slopes[at + 2] = square.multiply(new Complex(0, -q * (x - 1 / x)));
            return z;
        }
    }
}
