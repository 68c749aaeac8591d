package ohmprint.app.record;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import ohmprint.app.record.AcceptedTakes.KeptTake;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.impedance.FrequencyBands;
import ohmprint.text.Numbers;
import org.apache.commons.math3.stat.descriptive.rank.Median;
import org.jspecify.annotations.Nullable;

/**
 * The level of a take against what the loads make of it: a resistor that is not connected, or is another, shows at once.
 *
 * <p>Per twelfth octave from 200 Hz to 5 kHz, where a source is mostly resistive, the ratio of two takes is
 * {@code r = V_a/V_b = (1 + Z·y_b)/(1 + Z·y_a)} and gives {@code Z = (1 − r)/(r·y_a − y_b)}, a real Z standing for all of it.
 * With one other load only Z itself can be judged: it must lie within a factor of the expected one. With two others, theirs
 * foretells the level of the take; the difference is judged by its median over the bands. Three takes that contradict each
 * other fit again when any one of their loads is another, exactly alike (a line through three points is made by moving any of
 * them), so no take is blamed. With four and more, a single take without which all others agree is to blame, this one or an
 * earlier one.
 *
 * @param db level of the take against the one it was compared to, median over the bands, dB
 * @param comparedTo file of that take
 * @param finding what is wrong, or null; about the take whose file it names, this one or an earlier one
 */
record LoadPlausibility(
        double db, String comparedTo, @Nullable Finding finding) {
    private static final double FROM_HZ = 200;
    private static final double TO_HZ = 5000;
    private static final double LEAST_RATIO = 100;
    /** A rated impedance is a value at one frequency, and ratings are round numbers: common practice, no source. */
    private static final double FACTOR = 3;

    private static final double LOWEST_OHM = 15;
    private static final double HIGHEST_OHM = 3000;
    private static final double TOLERANCE_DB = 0.3;
    private static final double REPEAT_DB = 0.5;
    private static final double DRIFT_DB = 0.05;
    private static final double USUAL_OHM = 200;
    private static final double LEAST_SIEMENS = 1e-6;
    private static final List<String> COUNTS = List.of("", "", "two", "three", "four", "five", "six", "seven", "eight");

    /** A take with a load of its own, by its number from 1. */
    private record Part(int number, String file, Load load, TakeLevels levels) {}

    /**
     * Compares a take with the kept ones.
     *
     * @param expectedOhm the expected impedance, or null when nothing is known
     * @return null when there is nothing to compare with
     */
    static @Nullable LoadPlausibility of(RecordedTake recorded, @Nullable Double expectedOhm) {
        List<KeptTake> earlier = recorded.earlier();
        if (earlier.isEmpty()) {
            return null;
        }
        Load load = recorded.take().load();
        for (KeptTake kept : earlier) {
            if (kept.take().load().ohm() == load.ohm()) {
                return repeated(recorded, kept);
            }
        }
        List<Part> parts = new ArrayList<>();
        for (int i = 0; i < earlier.size(); i++) {
            KeptTake kept = earlier.get(i);
            if (parts.stream()
                    .noneMatch(p -> p.load().ohm() == kept.take().load().ohm())) {
                parts.add(new Part(i + 1, kept.take().file(), kept.take().load(), kept.levels()));
            }
        }
        if (parts.size() == 1) {
            return implied(recorded, earlier.get(0), expectedOhm);
        }
        parts.add(new Part(earlier.size() + 1, recorded.take().file(), load, recorded.bands()));
        return compared(parts, recorded.session().input());
    }

    private static LoadPlausibility repeated(RecordedTake recorded, KeptTake kept) {
        double db = median(ratiosDb(recorded.bands(), kept.levels()));
        String file = recorded.take().file();
        String name = kept.take().file();
        Finding finding = null;
        if (Math.abs(db) > REPEAT_DB) {
            finding = Wording.ANOTHER_REPEATED_LOAD.of(file, db, name);
        } else if (Math.abs(db) > DRIFT_DB) {
            finding = Wording.WARMS_UP.of(file, db, name);
        }
        return new LoadPlausibility(db, name, finding);
    }

    /** With two known loads the level of every other follows. */
    private static LoadPlausibility compared(List<Part> parts, InputImpedance input) {
        Part first = parts.get(0);
        Part last = parts.get(parts.size() - 1);
        double db = median(ratiosDb(last.levels(), first.levels()));
        double off = contradictionDb(parts, input);
        if (Double.isNaN(off) || off <= TOLERANCE_DB) {
            return new LoadPlausibility(db, first.file(), null);
        }
        List<Part> suspects = parts.stream()
                .filter(p -> parts.size() == 3 || contradictionDb(without(parts, p), input) <= TOLERANCE_DB)
                .toList();
        if (suspects.size() == 1) {
            return blamed(parts, suspects.get(0), db, input);
        }
        Finding finding = Wording.CONTRADICTING_TAKES.of(
                last.file(),
                numbers(parts),
                Double.isInfinite(off) ? "" : String.format(Locale.ROOT, " by %.2f dB", off),
                parts.size() == 3 ? candidates(parts, input) : "",
                count(parts));
        return new LoadPlausibility(db, first.file(), finding);
    }

    /** Without one take all others agree. */
    private static LoadPlausibility blamed(List<Part> parts, Part one, double db, InputImpedance input) {
        boolean thisOne = one.number() == parts.get(parts.size() - 1).number();
        List<Part> others = without(parts, one);
        double siemens = fitting(one, others.get(0), others.get(1), input);
        String fits = siemens > LEAST_SIEMENS
                ? "a load of about " + Numbers.digits(1 / siemens, 3) + " Ω would fit"
                : "it looks as if no load were connected";
        Finding finding = Wording.CONTRADICTS_OTHERS.of(
                one.file(),
                thisOne ? "this take" : "take " + one.number(),
                one.load().label(),
                count(others),
                fits,
                thisOne ? "it" : "its load");
        return new LoadPlausibility(db, parts.get(0).file(), finding);
    }

    private static String count(List<Part> parts) {
        return parts.size() < COUNTS.size() ? COUNTS.get(parts.size()) : Integer.toString(parts.size());
    }

    /** Which loads would make three takes agree, each by itself. */
    private static String candidates(List<Part> parts, InputImpedance input) {
        List<String> out = new ArrayList<>();
        for (Part part : parts) {
            List<Part> others = without(parts, part);
            double siemens = fitting(part, others.get(0), others.get(1), input);
            if (siemens > LEAST_SIEMENS) {
                out.add("take " + part.number() + " with about " + Numbers.digits(1 / siemens, 3) + " Ω");
            }
        }
        return out.isEmpty() ? "" : ", they would agree if it were " + String.join(" or ", out);
    }

    private static List<Part> without(List<Part> parts, Part one) {
        return parts.stream().filter(p -> p.number() != one.number()).toList();
    }

    private static String numbers(List<Part> parts) {
        int first = parts.get(0).number();
        int last = parts.get(parts.size() - 1).number();
        if (last - first == parts.size() - 1) {
            return first + " to " + last;
        }
        String most = parts.stream()
                .limit(parts.size() - 1L)
                .map(p -> Integer.toString(p.number()))
                .collect(Collectors.joining(", "));
        return most + " and " + last;
    }

    /**
     * By how much the levels of all takes are off what the first two foretell, the worst of their medians in dB; infinite when
     * the first two have no positive impedance, NaN when no band stands out of the noise in all.
     */
    private static double contradictionDb(List<Part> parts, InputImpedance input) {
        Part a = parts.get(0);
        Part b = parts.get(1);
        double worst = 0;
        for (Part part : parts.subList(2, parts.size())) {
            double off = median(overBands(part, a, b, input, (band, z, hz) -> {
                double y = admittance(part.load(), input, hz);
                double yA = admittance(a.load(), input, hz);
                return 20 * Math.log10(amplitude(part.levels(), a.levels(), band) * (1 + z * y) / (1 + z * yA));
            }));
            if (Double.isNaN(off)) {
                return bands(part.levels(), a.levels(), b.levels()).findAny().isEmpty()
                        ? Double.NaN
                        : Double.POSITIVE_INFINITY;
            }
            worst = Math.max(worst, Math.abs(off));
        }
        return worst;
    }

    /** The conductance that a load must have for its take to agree with two others, siemens; NaN when none does. */
    private static double fitting(Part part, Part a, Part b, InputImpedance input) {
        return median(overBands(part, a, b, input, (band, z, hz) -> {
            double yA = admittance(a.load(), input, hz);
            double seen = amplitude(part.levels(), a.levels(), band);
            return ((1 + z * yA) / seen - 1) / z - admittance(Load.open(), input, hz);
        }));
    }

    /** What a band gives, with the impedance there by two takes. */
    @FunctionalInterface
    private interface InBand {
        double of(int band, double z, double hz);
    }

    private static DoubleStream overBands(Part part, Part a, Part b, InputImpedance input, InBand value) {
        return bands(part.levels(), a.levels(), b.levels())
                .mapToDouble(i -> {
                    double hz = part.levels().bands().midband(i);
                    double z = impedance(
                            amplitude(a.levels(), b.levels(), i),
                            admittance(a.load(), input, hz),
                            admittance(b.load(), input, hz));
                    return z > 0 && !Double.isInfinite(z) ? value.of(i, z, hz) : Double.NaN;
                })
                .filter(v -> !Double.isNaN(v));
    }

    /** With one other load, the impedance that the step implies has to be a likely one. */
    private static LoadPlausibility implied(RecordedTake recorded, KeptTake kept, @Nullable Double expectedOhm) {
        InputImpedance input = recorded.session().input();
        Load load = recorded.take().load();
        TakeLevels levels = recorded.bands();
        double db = median(ratiosDb(levels, kept.levels()));
        double hz = Math.sqrt(FROM_HZ * TO_HZ);
        double y = admittance(load, input, hz);
        double yKept = admittance(kept.take().load(), input, hz);
        double low = step(expectedOhm == null ? LOWEST_OHM : expectedOhm / FACTOR, y, yKept);
        double high = step(expectedOhm == null ? HIGHEST_OHM : expectedOhm * FACTOR, y, yKept);
        Finding finding = null;
        double usual = expectedOhm == null ? USUAL_OHM : expectedOhm;
        if (db < Math.min(low, high) || db > Math.max(low, high)) {
            finding = Wording.UNLIKELY_STEP.of(
                    recorded.take().file(),
                    db,
                    kept.take().file(),
                    kept.take().load().label(),
                    load.label(),
                    step(usual, y, yKept),
                    Numbers.digits(usual, 3));
        }
        return new LoadPlausibility(db, kept.take().file(), finding);
    }

    private static double step(double ohm, double y, double yKept) {
        return 20 * Math.log10((1 + ohm * yKept) / (1 + ohm * y));
    }

    /** {@code Z = (1 − r)/(r·y_a − y_b)} with r = V_a/V_b. */
    private static double impedance(double ratio, double yA, double yB) {
        return (1 - ratio) / (ratio * yA - yB);
    }

    private static double admittance(Load load, InputImpedance input, double hz) {
        double within = Math.min(input.highestHz(), Math.max(input.lowestHz(), hz));
        return load.conductance() + input.admittance(within).getReal();
    }

    private static double amplitude(TakeLevels a, TakeLevels b, int band) {
        return Math.sqrt(a.signal()[band] / b.signal()[band]);
    }

    /** The bands that stand out of the noise in all of some takes. */
    private static IntStream bands(TakeLevels... takes) {
        FrequencyBands bands = takes[0].bands();
        return IntStream.range(0, bands.size())
                .filter(i -> bands.midband(i) >= FROM_HZ && bands.midband(i) <= TO_HZ)
                .filter(i -> Arrays.stream(takes).allMatch(take -> take.holds(i, LEAST_RATIO)));
    }

    /** The level of a take over that of another in the bands that stand out of the noise in both. */
    private static DoubleStream ratiosDb(TakeLevels a, TakeLevels b) {
        return bands(a, b).mapToDouble(i -> 20 * Math.log10(amplitude(a, b, i)));
    }

    /** NaN without values. */
    private static double median(DoubleStream values) {
        return new Median().evaluate(values.toArray());
    }
}
