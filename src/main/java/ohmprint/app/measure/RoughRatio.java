package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TreeMap;
import java.util.stream.IntStream;
import ohmprint.estimation.RatioSmoothness;
import ohmprint.estimation.RatioSmoothness.Band;
import ohmprint.impedance.ChiSquare;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.impedance.FrequencyBands;
import ohmprint.session.Take;
import ohmprint.text.Numbers;

/**
 * Takes whose ratio is not smooth against frequency: the path of the sound changed between them, or one of them is disturbed.
 *
 * <p>An octave is rough where it leaves over more than chance and a noise that is not quite as stated explain
 * ({@code p < 10⁻⁶}, and more than {@value #SOME} times the noise), and the middle one of its bands {@value #RESIDUAL} or more of
 * the amplitude; {@value #SMALL_RESIDUAL} is enough where most bands leave over {@value #MUCH} times the noise. Octaves are judged
 * from {@value #FROM_HZ} Hz on: hum lies below. What the thresholds rest on is in
 * {@code src/site/markdown/decisions/smooth-ratio.md}.
 */
final class RoughRatio {
    private static final double FROM_HZ = 707;
    private static final double TO_HZ = 16_000;
    private static final double RESIDUAL = 0.01;
    private static final double SMALL_RESIDUAL = 0.003;
    private static final double MUCH = 3;
    private static final double SOME = 1.1;
    private static final double NO_CHANCE = 1e-6;
    private static final int LEAST_BANDS = 6;
    /** Growth of the residual over the rough octaves from which on it is a changed path, as a ratio per octave. */
    private static final double GROWTH = 1.3;

    private RoughRatio() {}

    /** One octave of a pair of takes. */
    private record Octave(double fromHz, double toHz, double residual, boolean isRough) {
        static Octave of(List<Band> bands) {
            double[] residuals =
                    bands.stream().mapToDouble(Band::residual).sorted().toArray();
            double middle = residuals[residuals.length / 2];
            ChiSquare all = new ChiSquare(
                    bands.stream().mapToDouble(b -> b.left().value()).sum(),
                    bands.stream().mapToDouble(b -> b.left().freedom()).sum());
            long far = bands.stream().filter(b -> b.left().ratio() > MUCH).count();
            boolean rough = all.pValue() < NO_CHANCE
                    && all.ratio() > SOME
                    && (middle >= RESIDUAL || (middle >= SMALL_RESIDUAL && 2 * far > bands.size()));
            return new Octave(
                    bands.get(0).frequencyHz(), bands.get(bands.size() - 1).frequencyHz(), middle, rough);
        }
    }

    /** Two takes by their place in the set, and the octaves of their ratio, ascending. */
    private record Pair(int take, int other, List<Octave> octaves) {
        static Pair of(TakeSet takes, int take, int other) {
            TreeMap<Integer, List<Band>> all = new TreeMap<>();
            for (Band band : RatioSmoothness.of(takes.bins(), take, other, FROM_HZ, TO_HZ)) {
                all.computeIfAbsent(FrequencyBands.octave(band.frequencyHz()), o -> new ArrayList<>())
                        .add(band);
            }
            List<Octave> octaves = new ArrayList<>();
            all.forEach((octave, bands) -> {
                if (bands.size() >= LEAST_BANDS) {
                    octaves.add(Octave.of(bands));
                }
            });
            return new Pair(take, other, octaves);
        }

        boolean isRough() {
            return octaves.stream().anyMatch(Octave::isRough);
        }

        /** The largest residual of a rough octave. */
        double most() {
            return octaves.stream()
                    .filter(Octave::isRough)
                    .mapToDouble(Octave::residual)
                    .max()
                    .orElse(0);
        }

        boolean holds(int one) {
            return take == one || other == one;
        }

        /** Whether what is left over grows with frequency, as it does where a length or the speed of sound changed. */
        boolean grows() {
            Octave low = octaves.get(0);
            Octave high = octaves.get(octaves.size() - 1);
            double span = Math.log(high.fromHz / low.fromHz) / Math.log(FrequencyBands.OCTAVE_RATIO);
            return high.isRough && high.residual > Math.pow(GROWTH, span) * low.residual;
        }

        /** What is said of it, about one of the two takes or about both. */
        Finding finding(List<Take> takes, OptionalInt blamed) {
            String file = takes.get(take).file();
            String companion = takes.get(other).file();
            if (blamed.isPresent() && blamed.getAsInt() == other) {
                file = companion;
                companion = takes.get(take).file();
            }
            boolean known = blamed.isPresent();
            List<Octave> rough = octaves.stream().filter(Octave::isRough).toList();
            String what = known ? "its ratio to " + companion : "the ratio of " + companion + " and " + file;
            String where = Numbers.briefFrequency(rough.get(0).fromHz) + " to "
                    + Numbers.briefFrequency(rough.get(rough.size() - 1).toHz);
            String again = known ? "record it again" : "record both again";
            return (grows() ? Wording.PATH_CHANGED : Wording.ROUGH_RATIO)
                    .of(known ? file : null, what, where, Numbers.digits(100 * most(), 2), again);
        }
    }

    /** What is to be said of aligned takes; nothing where all ratios are smooth. */
    static Optional<Finding> finding(TakeSet set) {
        List<Pair> pairs = new ArrayList<>();
        for (int k = 1; k < set.size(); k++) {
            pairs.add(Pair.of(set, k, 0));
        }
        if (pairs.stream().noneMatch(Pair::isRough)) {
            return Optional.empty();
        }
        for (int k = 1; k < set.size(); k++) {
            for (int l = k + 1; l < set.size(); l++) {
                pairs.add(Pair.of(set, l, k));
            }
        }
        Pair worst = pairs.stream()
                .filter(Pair::isRough)
                .max(Comparator.comparingDouble(Pair::most))
                .orElseThrow();
        return Optional.of(worst.finding(set.takes(), blamed(set.size(), pairs)));
    }

    /** The one take all of whose ratios are rough, while all others are smooth; two takes cannot tell. */
    private static OptionalInt blamed(int takes, List<Pair> pairs) {
        return takes < 3
                ? OptionalInt.empty()
                : IntStream.range(0, takes)
                        .filter(k -> pairs.stream().allMatch(pair -> pair.holds(k) == pair.isRough()))
                        .findFirst();
    }
}
