package ohmprint.circuit.fit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
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
}
