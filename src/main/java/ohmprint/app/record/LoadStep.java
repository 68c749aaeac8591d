package ohmprint.app.record;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode;
import ohmprint.curve.Rounded;
import org.apache.commons.math3.stat.descriptive.rank.Median;
import org.jspecify.annotations.Nullable;

/**
 * The level of a take against what the loads make of it: a resistor that is not connected, or is another, shows at once.
 *
 * <p>Per twelfth octave from 200 Hz to 5 kHz, where a source is mostly resistive, the ratio of two takes is
 * {@code r = V_a/V_b = (1 + Z·y_b)/(1 + Z·y_a)} and gives {@code Z = (1 − r)/(r·y_a − y_b)}, a real Z standing for all of it.
 * With two different loads already there, their Z foretells the level of the take; the difference is judged by its median
 * over the bands. With one, only Z itself can be judged: it must lie within a factor of the expected one.
 *
 * @param db level of the take against the one it was compared to, median over the bands, dB
 * @param comparedTo file of that take
 * @param finding what is wrong, or null
 */
record LoadStep(double db, String comparedTo, @Nullable Finding finding) {
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

    /**
     * Compares a take with the kept ones.
     *
     * @param expectedOhm the expected impedance, or null when nothing is known
     * @return null when there is nothing to compare with
     */
    static @Nullable LoadStep of(RecordedTake recorded, @Nullable Double expectedOhm) {
        List<RecordedTake.KeptTake> earlier = recorded.earlier();
        if (earlier.isEmpty()) {
            return null;
        }
        Load load = recorded.take().load();
        for (RecordedTake.KeptTake kept : earlier) {
            if (kept.take().load().ohm() == load.ohm()) {
                return repeated(recorded, kept);
            }
        }
        RecordedTake.KeptTake nearest = earlier.get(0);
        for (RecordedTake.KeptTake other : earlier) {
            if (other.take().load().ohm() != nearest.take().load().ohm()) {
                return foretold(recorded, nearest, other);
            }
        }
        return implied(recorded, nearest, expectedOhm);
    }

    private static LoadStep repeated(RecordedTake recorded, RecordedTake.KeptTake kept) {
        double db = median(ratiosDb(recorded.bands(), kept.levels()));
        String name = kept.take().file();
        Finding finding = null;
        if (Math.abs(db) > REPEAT_DB) {
            finding = new Finding(
                    FindingCode.LOAD_MISMATCH,
                    recorded.take().file(),
                    String.format(
                            Locale.ROOT,
                            "is %+.2f dB against %s with the same load; see that the same resistor is connected and that"
                                    + " nothing was touched, then record it again",
                            db,
                            name));
        } else if (Math.abs(db) > DRIFT_DB) {
            finding = new Finding(
                    FindingCode.LEVEL_DRIFT,
                    recorded.take().file(),
                    String.format(
                            Locale.ROOT,
                            "is %+.2f dB against %s with the same load; let the equipment warm up and touch nothing",
                            db,
                            name));
        }
        return new LoadStep(db, name, finding);
    }

    /** With two known loads the level of a third follows. */
    private static LoadStep foretold(RecordedTake recorded, RecordedTake.KeptTake a, RecordedTake.KeptTake b) {
        InputImpedance input = recorded.session().input();
        List<Double> differences = new ArrayList<>();
        List<Double> fitting = new ArrayList<>();
        TakeLevels levels = recorded.bands();
        for (int i = 0; i < levels.bands().size(); i++) {
            if (!all(i, levels, a.levels(), b.levels())) {
                continue;
            }
            double hz = levels.bands().midband(i);
            double yA = admittance(a.take().load(), input, hz);
            double yB = admittance(b.take().load(), input, hz);
            double z = impedance(amplitude(a.levels(), b.levels(), i), yA, yB);
            if (!(z > 0) || Double.isInfinite(z)) {
                continue;
            }
            double y = admittance(recorded.take().load(), input, hz);
            double seen = amplitude(levels, a.levels(), i);
            differences.add(20 * Math.log10(seen * (1 + z * y) / (1 + z * yA)));
            fitting.add(((1 + z * yA) / seen - 1) / z - admittance(Load.open(), input, hz));
        }
        double db = median(ratiosDb(levels, a.levels()));
        double off = median(differences);
        Finding finding = null;
        if (Math.abs(off) > TOLERANCE_DB) {
            double siemens = median(fitting);
            String fits = siemens > 1e-6
                    ? "a load of about " + Rounded.digits(1 / siemens, 3) + " Ω would fit"
                    : "it looks as if no load were connected";
            finding = new Finding(
                    FindingCode.LOAD_MISMATCH,
                    recorded.take().file(),
                    String.format(
                            Locale.ROOT,
                            "is %+.2f dB from the level that %s and %s foretell for %s; %s: check the resistor and record"
                                    + " it again",
                            off,
                            a.take().file(),
                            b.take().file(),
                            recorded.take().load().label(),
                            fits));
        }
        return new LoadStep(db, a.take().file(), finding);
    }

    /** With one other load, the impedance that the step implies has to be a likely one. */
    private static LoadStep implied(RecordedTake recorded, RecordedTake.KeptTake kept, @Nullable Double expectedOhm) {
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
            finding = new Finding(
                    FindingCode.LOAD_MISMATCH,
                    recorded.take().file(),
                    String.format(
                            Locale.ROOT,
                            "is %+.2f dB against %s; from %s to %s about %+.1f dB are expected of %s Ω: check that both"
                                    + " resistors were connected and are what they should be, then record it again",
                            db,
                            kept.take().file(),
                            kept.take().load().label(),
                            load.label(),
                            step(usual, y, yKept),
                            Rounded.digits(usual, 3)));
        }
        return new LoadStep(db, kept.take().file(), finding);
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

    private static boolean all(int band, TakeLevels... takes) {
        for (TakeLevels take : takes) {
            if (!take.holds(band, LEAST_RATIO)) {
                return false;
            }
        }
        double hz = takes[0].bands().midband(band);
        return hz >= FROM_HZ && hz <= TO_HZ;
    }

    private static List<Double> ratiosDb(TakeLevels a, TakeLevels b) {
        List<Double> out = new ArrayList<>();
        for (int i = 0; i < a.bands().size(); i++) {
            if (all(i, a, b)) {
                out.add(20 * Math.log10(amplitude(a, b, i)));
            }
        }
        return out;
    }

    private static double median(List<Double> values) {
        return values.isEmpty()
                ? Double.NaN
                : new Median()
                        .evaluate(
                                values.stream().mapToDouble(Double::doubleValue).toArray());
    }
}
