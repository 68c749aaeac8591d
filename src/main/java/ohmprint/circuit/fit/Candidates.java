package ohmprint.circuit.fit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import ohmprint.circuit.fit.Part.Parallel;
import ohmprint.circuit.fit.Part.Series;
import ohmprint.circuit.fit.Part.Value;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.stat.descriptive.rank.Percentile;
import org.jspecify.annotations.Nullable;

/** All circuits, each fitted from starts that the curve and the fits of simpler circuits suggest. */
final class Candidates {
    private static final String RESONANCE = "resonance";
    private static final String SECOND_RESONANCE = "second_resonance";
    private static final int SPARE = 4;

    private final Points points;
    private final @Nullable Family wanted;
    private final List<Fit> fits = new ArrayList<>();
    private final StartValues guess;

    private Candidates(Points points, @Nullable Family wanted) {
        this.points = points;
        this.wanted = wanted;
        this.guess = new StartValues(points);
    }

    /** Fits of all circuits, or of those of one family and the plain ones, for which there are enough bands. */
    static List<Fit> fitted(Points points, @Nullable Family family) {
        Candidates all = new Candidates(points, family);
        all.coils(false);
        all.coils(true);
        all.ribbons();
        all.actives();
        return all.fits;
    }

    /** A kind of inductor: parts, words, and starts of their parameters. */
    private record Coil(String words, List<Part> parts, List<double[]> starts) {}

    private List<Coil> inductors() {
        double l = Math.log(guess.topHenries());
        double bridge = Math.log(guess.topHenries() * guess.topOmega());
        Part coil = new Part.Inductor("inductance");
        Part bridged = bridged("bridged", "bridging");
        Part second = bridged("second_bridged", "second_bridging");
        double m = bridge - 0.8 * Math.log(guess.topOmega() / Part.LossyInductor.REFERENCE);
        return List.of(
                new Coil("", List.of(), List.of(new double[0])),
                new Coil(" + inductor", List.of(coil), List.of(new double[] {l})),
                new Coil(" + inductor with loss", List.of(new Part.LossyInductor()), List.of(new double[] {m, 1.4})),
                new Coil(
                        " + bridged inductor",
                        List.of(bridged),
                        List.of(new double[] {l + 0.3, bridge + 0.7}, new double[] {l + 1.5, bridge - 0.5})),
                new Coil(
                        " + two bridged inductors",
                        List.of(bridged, second),
                        List.of(
                                new double[] {l - 0.7, bridge - 0.7, l - 0.3, bridge + 2},
                                new double[] {l, bridge - 2, l - 0.3, bridge + 1})));
    }

    private static Part bridged(String inductor, String resistor) {
        return new Parallel(new Part.Inductor(inductor), new Part.Resistor(resistor));
    }

    private void coils(boolean cable) {
        for (Coil coil : inductors()) {
            List<Part> parts = new ArrayList<>(List.of(new Part.Resistor("coil")));
            parts.addAll(coil.parts());
            String words = "resistance" + coil.words();
            boolean plain = coil.parts().isEmpty() || coil.words().equals(" + inductor");
            Fit none = add(
                    plain ? Family.PLAIN : Family.MOVING_COIL,
                    words,
                    parts,
                    0,
                    cable,
                    coil.starts().stream()
                            .map(s -> StartValues.joined(guess.resistance(), s))
                            .toList());
            if (none == null) {
                continue;
            }
            parts.add(new Part.Tuned(RESONANCE));
            Stream<double[]> bases = Stream.concat(
                    coil.starts().stream().map(s -> StartValues.joined(guess.resistance(), s)),
                    Stream.of(Arrays.copyOf(none.p(), none.size() - (cable ? 1 : 0))));
            Fit one = add(
                    Family.MOVING_COIL,
                    words + " + resonance",
                    parts,
                    1,
                    cable,
                    bases.flatMap(base -> guess.peaks(partOf(parts.subList(0, parts.size() - 1), false), base).stream()
                                    .map(peak -> StartValues.joined(base, peak)))
                            .toList());
            if (one == null) {
                continue;
            }
            parts.add(new Part.Tuned(SECOND_RESONANCE));
            double[] base = Arrays.copyOf(one.p(), one.size() - (cable ? 1 : 0));
            add(
                    Family.MOVING_COIL,
                    words + " + two resonances",
                    parts,
                    2,
                    cable,
                    guess.peaks(partOf(parts.subList(0, parts.size() - 1), false), base).stream()
                            .map(peak -> StartValues.joined(base, peak))
                            .toList());
        }
    }

    private void ribbons() {
        for (boolean cable : new boolean[] {false, true}) {
            for (boolean leakage : new boolean[] {false, true}) {
                for (boolean peak : new boolean[] {false, true}) {
                    List<Part> parts = new ArrayList<>(List.of(new Part.Resistor("winding")));
                    if (leakage) {
                        parts.add(new Part.Inductor("leakage"));
                    }
                    Part ribbon = new Part.Resistor("ribbon");
                    parts.add(new Parallel(
                            new Part.Inductor("magnetising"),
                            peak ? new Series(List.of(ribbon, new Part.Tuned(RESONANCE))) : ribbon));
                    String words = "winding" + (leakage ? " + leakage" : "") + " + transformer with ribbon"
                            + (peak ? " and its resonance" : "");
                    add(Family.RIBBON, words, parts, peak ? 1 : 0, cable, guess.ribbon(leakage, peak));
                }
            }
        }
    }

    private void actives() {
        List<Part> parts = new ArrayList<>(List.of(new Part.Resistor("output"), new Part.Capacitor("coupling")));
        double[] start = guess.coupled();
        add(Family.CAPACITOR_COUPLED, "resistance + capacitor", parts, 0, false, List.of(start));
        parts.add(new Part.Inductor("inductance"));
        add(
                Family.CAPACITOR_COUPLED,
                "resistance + capacitor + inductor",
                parts,
                0,
                false,
                List.of(StartValues.joined(start, new double[] {Math.log(guess.topHenries())})));
    }

    private @Nullable Fit add(
            Family family, String words, List<Part> parts, int resonances, boolean cable, List<double[]> starts) {
        Part part = partOf(parts, cable);
        boolean asked = wanted == null || family == wanted || family == Family.PLAIN;
        if (!asked || points.size() < part.size() + SPARE) {
            return null;
        }
        double[] farads = cable ? guess.cable() : new double[0];
        Candidate candidate = new Candidate(family, words + (cable ? ", capacitance across" : ""), part, resonances);
        Fit fit = Fit.best(
                candidate,
                points,
                starts.stream().map(s -> StartValues.joined(s, farads)).toList());
        if (fit != null && !beyondTheTop(fit)) {
            fits.add(fit);
        }
        return fit;
    }

    /** A resonance above the curve is no resonance but a stand-in for inductance and capacitance, which are there. */
    private boolean beyondTheTop(Fit fit) {
        List<Value> values = fit.candidate().part().values();
        return IntStream.range(0, values.size())
                .anyMatch(i ->
                        values.get(i).unit().equals("Hz") && 2 * Math.PI * Math.exp(fit.p()[i]) > guess.topOmega());
    }

    private static Part partOf(List<Part> parts, boolean cable) {
        Part series = new Series(parts);
        return cable ? new Parallel(series, new Part.Capacitor("shunt")) : series;
    }

    /**
     * A circuit that a microphone may have.
     *
     * @param family whose it is
     * @param words its parts in words
     * @param part the circuit
     * @param resonances how many resonances it has
     */
    record Candidate(Family family, String words, Part part, int resonances) {
        /** How many of its parts chance may place at any frequency: resonances, and a second bridged inductor. */
        int anywhere() {
            return (int) part.values().stream()
                    .filter(v -> v.unit().equals("Hz") || v.name().equals("second_bridged_henry"))
                    .count();
        }
    }

    /** Where the fits of circuits begin, read from the curve; all values as natural logarithms of ohms, henries, farads, hertz. */
    private static final class StartValues {
        private static final double[] QUALITIES = {0.7, 2, 5};
        private static final int PEAKS_TRIED = 2;
        /** Bands at the top from which the inductance is read. */
        private static final int TOP_BANDS = 5;
        /** How much of a ribbon's curve is the winding, and how much the ribbon behind the transformer. */
        private static final double WINDING = 0.07;

        private static final double RIBBON = 0.93;

        private final Points points;
        private final double low;
        private final double middle;
        private final double topHenries;
        private final double topOmega;
        private final double bottomOmega;

        StartValues(Points points) {
            this.points = points;
            int n = points.bands();
            double[] r = IntStream.range(0, n)
                    .mapToDouble(b -> points.ohms(b).getReal())
                    .toArray();
            middle = Math.max(1e-3, new Percentile(50).evaluate(r));
            low = Math.max(0.05 * middle, DoubleStream.of(r).min().orElse(middle));
            topOmega = 2 * Math.PI * points.hz(n - 1);
            bottomOmega = 2 * Math.PI * points.hz(0);
            double top = IntStream.range(Math.max(0, n - TOP_BANDS), n)
                    .mapToDouble(b -> points.ohms(b).getImaginary() / (2 * Math.PI * points.hz(b)))
                    .average()
                    .orElse(0);
            topHenries = Math.max(top, 1e-3 * middle / topOmega);
        }

        /** Inductance at the top of the curve, henries; a trace of one where there is none. */
        double topHenries() {
            return topHenries;
        }

        /** Angular frequency of the highest band, rad/s. */
        double topOmega() {
            return topOmega;
        }

        /** A resistor in series with the rest: the least resistance of the curve. */
        double[] resistance() {
            return new double[] {Math.log(low)};
        }

        /** A resistor and a capacitor in series. */
        double[] coupled() {
            double reactance = points.ohms(0).getImaginary();
            double farads = 1 / (bottomOmega * Math.max(0.01 * middle, Math.abs(reactance)));
            return joined(resistance(), new double[] {Math.log(farads)});
        }

        /** The capacitance of a cable across it all. */
        double[] cable() {
            return new double[] {Math.log(0.03 / (topOmega * middle))};
        }

        /** Winding, with or without leakage, and a ribbon behind its transformer, with or without its resonance. */
        List<double[]> ribbon(boolean leakage, boolean peak) {
            List<double[]> out = new ArrayList<>();
            double ribbon = RIBBON * middle;
            double[] head = leakage
                    ? new double[] {Math.log(WINDING * middle), Math.log(topHenries)}
                    : new double[] {Math.log(WINDING * middle)};
            for (double times : new double[] {0.7, 2, 6}) {
                double[] body = {Math.log(ribbon / (times * bottomOmega)), Math.log(ribbon)};
                if (!peak) {
                    out.add(joined(head, body));
                } else {
                    for (double at : new double[] {1.3, 2, 3.5}) {
                        double hz = at * bottomOmega / (2 * Math.PI);
                        out.add(joined(joined(head, body), tuned(0.3 * ribbon, hz, 2)));
                    }
                }
            }
            return out;
        }

        /** A further resonance: where the resistance of the curve exceeds that of a circuit most. */
        List<double[]> peaks(Part part, double[] p) {
            int n = points.bands();
            double[] excess = new double[n];
            for (int b = 0; b < n; b++) {
                Complex z = part.impedance(2 * Math.PI * points.hz(b), p, 0, new Complex[p.length]);
                excess[b] = points.ohms(b).subtract(z).getReal();
            }
            List<double[]> out = new ArrayList<>();
            IntStream.range(0, n)
                    .filter(b -> excess[b] >= excess[Math.max(0, b - 1)] && excess[b] >= excess[Math.min(n - 1, b + 1)])
                    .filter(b -> b == 0 || b == n - 1 || excess[b] > excess[b - 1] || excess[b] > excess[b + 1])
                    .boxed()
                    .sorted(Comparator.comparingDouble(b -> -excess[b]))
                    .limit(PEAKS_TRIED)
                    .forEach(b -> {
                        for (double q : QUALITIES) {
                            out.add(tuned(Math.max(excess[b], 0.01 * middle), points.hz(b), q));
                        }
                    });
            return out;
        }

        private static double[] tuned(double ohm, double hz, double q) {
            return new double[] {Math.log(ohm), Math.log(hz), Math.log(q)};
        }

        /** One array after another. */
        static double[] joined(double[] a, double[] b) {
            double[] out = Arrays.copyOf(a, a.length + b.length);
            System.arraycopy(b, 0, out, a.length, b.length);
            return out;
        }
    }
}
