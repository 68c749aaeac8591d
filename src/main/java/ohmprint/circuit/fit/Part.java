package ohmprint.circuit.fit;

import java.util.ArrayList;
import java.util.List;
import org.apache.commons.math3.complex.Complex;

/**
 * A network of two pins. Its values are kept as parameters without bounds: logarithms of ohms, henries, farads and hertz.
 */
sealed interface Part {
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

    /**
     * Two parts side by side: admittances add, and {@code dZ = Z²·dZ₁/Z₁²}.
     *
     * @param one the first
     * @param other the second
     */
    record Parallel(Part one, Part other) implements Part {
        @Override
        public List<Value> values() {
            return Value.joined(List.of(one, other));
        }

        @Override
        public Complex impedance(double omega, double[] p, int at, Complex[] slopes) {
            int middle = at + one.size();
            Complex a = one.impedance(omega, p, at, slopes);
            Complex b = other.impedance(omega, p, middle, slopes);
            Complex z = a.multiply(b).divide(a.add(b));
            scale(slopes, at, middle, z.divide(a));
            scale(slopes, middle, middle + other.size(), z.divide(b));
            return z;
        }

        private static void scale(Complex[] slopes, int from, int to, Complex share) {
            for (int i = from; i < to; i++) {
                slopes[i] = slopes[i].multiply(share).multiply(share);
            }
        }
    }

    /**
     * Parts one after the other: impedances add.
     *
     * @param parts the parts
     */
    record Series(List<Part> parts) implements Part {
        /** Copies the list. */
        public Series {
            parts = List.copyOf(parts);
        }

        @Override
        public List<Value> values() {
            return Value.joined(parts);
        }

        @Override
        public Complex impedance(double omega, double[] p, int at, Complex[] slopes) {
            Complex sum = Complex.ZERO;
            int from = at;
            for (Part part : parts) {
                sum = sum.add(part.impedance(omega, p, from, slopes));
                from += part.size();
            }
            return sum;
        }
    }

    /**
     * A value that is stated about a part.
     *
     * @param name its word in files
     * @param unit its unit, empty for a plain number
     * @param positive whether it is positive by nature, so that its interval is one of ratios
     * @param of computes it
     */
    record Value(String name, String unit, boolean positive, Formula of) {
        /** Computes a value from the parameters of a circuit. */
        @FunctionalInterface
        interface Formula {
            /**
             * The value.
             *
             * @param p parameters of the whole circuit
             * @param at index of the first of the part
             */
            double from(double[] p, int at);
        }

        /**
         * A value that is e to a parameter.
         *
         * @param offset index of the parameter within the part
         */
        static Value positive(String name, String unit, int offset) {
            return new Value(name, unit, true, (p, at) -> Math.exp(p[at + offset]));
        }

        /** The values of parts whose parameters follow one another, as values of the first. */
        static List<Value> joined(List<Part> parts) {
            List<Value> out = new ArrayList<>();
            int from = 0;
            for (Part part : parts) {
                int shift = from;
                for (Value value : part.values()) {
                    out.add(new Value(
                            value.name(),
                            value.unit(),
                            value.positive(),
                            (p, at) -> value.of().from(p, at + shift)));
                }
                from += part.size();
            }
            return out;
        }
    }
}
