package ohmprint.impedance;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import ohmprint.impedance.Provenance.FileOrigin;
import ohmprint.impedance.Provenance.TakeOrigin;

/** Invented measurements for tests of files and pictures: plausible shapes, no measured data. */
public final class SampleMeasurements {
    private static final String SHA = "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08";

    private SampleMeasurements() {}

    /** 200 Ω with 1 mH and a resonance at 150 Hz, twelfth octaves, no gaps, one harmless finding. */
    public static Measurement movingCoil() {
        return measurement("Bench dynamic 2", movingCoilCurve(12, 30, 18000), Usability.USABLE, List.of());
    }

    /** The curve of {@link #movingCoil} on another grid. */
    public static ImpedanceCurve movingCoilCurve(int fraction, double fromHz, double toHz) {
        return InventedCurves.curve(fraction, fromHz, toHz, i -> false, false, (f, w) -> {
            double g = 1.0 / 100;
            double b = w * 10.6103295e-6 - 1 / (w * 0.106103295);
            double d = g * g + b * b;
            return new double[] {200 + g / d, w * 1e-3 - b / d};
        });
    }

    /** A ribbon behind a transformer with rejected bands at both ends, in the middle, and one band alone. */
    public static Measurement ribbonWithGaps() {
        ImpedanceCurve curve = InventedCurves.curve(
                12, 20, 20000, i -> i < 6 || (i > 40 && i < 46) || i == 47 || i > 112, true, (f, w) -> {
                    double lm = 1.369;
                    double x = w * lm;
                    double r = 274;
                    return new double[] {20 + r * x * x / (r * r + x * x), x * r * r / (r * r + x * x) + w * 10e-6};
                });
        List<Finding> findings = List.of(
                new Finding(
                        FindingCode.LOW_SNR,
                        "take-2.wav",
                        "take take-2.wav is less than 20 dB above the noise in 13 of 120 bands; raise the level or"
                                + " lengthen the sweep and record it again"),
                new Finding(
                        FindingCode.INPUT_UNKNOWN,
                        null,
                        "the recording input is not stated, so the curve is that of the microphone in parallel with it;"
                                + " measure or look up the input and state resistance_ohm"));
        return measurement("Bench ribbon 7", curve, Usability.DOUBTFUL, findings);
    }

    /** Third octaves by power alone, two loads: intervals only, one of them without an upper bound. */
    public static Measurement intervalsOnly() {
        FrequencyBands bands = FrequencyBands.within(3, 50, 16000);
        List<BandValue> values = new ArrayList<>();
        for (int i = 0; i < bands.size(); i++) {
            double f = bands.midband(i);
            double middle = 170 + 40 * Math.sin(i * 0.4);
            if (i == 9) {
                values.add(BandValue.rejected(f, 3));
            } else {
                double high = i == 14 ? Double.POSITIVE_INFINITY : middle * 1.35;
                values.add(BandValue.interval(f, middle * 0.85, high, 31));
            }
        }
        List<Finding> findings = List.of(new Finding(
                FindingCode.NOT_COHERENT,
                null,
                "the two takes do not hold the same sound; with two loads only bounds follow: record a third load or play"
                        + " the same file for every take"));
        return new Measurement(
                microphone("Loft pencil 3"),
                new ImpedanceCurve(bands, values, false),
                Route.POWER,
                "the takes are not coherent",
                Usability.DOUBTFUL,
                findings,
                provenance());
    }

    /** Third octaves by power with enough loads: |Z| and R, no phase. */
    public static Measurement magnitudesOnly() {
        FrequencyBands bands = FrequencyBands.within(3, 50, 16000);
        List<BandValue> values = new ArrayList<>();
        for (int i = 0; i < bands.size(); i++) {
            double z = 200 + 30 * Math.cos(i * 0.5);
            values.add(BandValue.magnitudeOnly(
                    bands.midband(i), z, z * 0.97, z * 0.04, 33, new BandBudget(3, 1, 1, 0.5, 0)));
        }
        return new Measurement(
                microphone("Loft pencil 3"),
                new ImpedanceCurve(bands, values, false),
                Route.POWER,
                "the takes are not coherent",
                Usability.USABLE,
                List.of(),
                provenance());
    }

    /** The same with what the levels tell of R and |Z| together in every other band. */
    public static Measurement magnitudesWithOutlines() {
        Measurement plain = magnitudesOnly();
        ImpedanceCurve curve = plain.curve();
        List<BandValue> values = new ArrayList<>(curve.values());
        for (int i = 0; i < values.size(); i += 2) {
            BandValue v = values.get(i);
            double z = v.magnitudeOhm();
            values.set(
                    i,
                    BandValue.magnitudeOnly(
                            v.frequencyHz(),
                            z,
                            v.resistanceOhm(),
                            v.magnitudeU95Ohm(),
                            v.snrDb(),
                            new BandBudget(3, 1, 1, 0.5, 0),
                            new ImpedanceOutline(List.of(0.8 * z, 0.97 * z, 0.9 * z), List.of(0.96 * z, z, 1.04 * z))));
        }
        return new Measurement(
                plain.microphone(),
                new ImpedanceCurve(curve.bands(), values, false),
                plain.route(),
                plain.routeReason(),
                plain.usability(),
                plain.findings(),
                plain.provenance());
    }

    /** From 5 Ω to 20 kΩ, with a lower limit of the 95 % band below zero and a phase close to ±90°. */
    public static Measurement wideRange() {
        ImpedanceCurve curve = InventedCurves.curve(12, 20, 20000, i -> false, false, (f, w) ->
                new double[] {5, -1 / (w * 0.4e-6) * 0.99 + w * 1e-4});
        List<BandValue> values = new ArrayList<>(curve.values());
        for (int i = 108; i < values.size(); i++) {
            BandValue v = values.get(i);
            values.set(
                    i,
                    BandValue.complex(
                            v.frequencyHz(),
                            v.resistanceOhm(),
                            v.reactanceOhm(),
                            PlaneCovariance.circular(6),
                            12 + 0.5 * i,
                            0.9,
                            12,
                            new BandBudget(6, 0, 0, 0, 0)));
        }
        return measurement(
                "Field capsule 12",
                new ImpedanceCurve(curve.bands(), values, false),
                Usability.USABLE,
                List.of(new Finding(
                        FindingCode.TIMING, "take-3.wav", "take take-3.wav starts 0.4 samples off; snapped")));
    }

    /** The given number of findings of changing length. */
    public static Measurement withFindings(int count) {
        List<Finding> findings = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            FindingCode code = FindingCode.values()[i % FindingCode.values().length];
            String more =
                    i % 3 == 0 ? "; lower the level by 6 dB, check the plugs at both ends and record it again" : "";
            findings.add(new Finding(
                    code, "take-" + (i + 1) + ".wav", "take take-" + (i + 1) + ".wav: evidence " + (i + 1) + more));
        }
        Measurement m = movingCoil();
        return new Measurement(
                m.microphone(), m.curve(), m.route(), m.routeReason(), Usability.UNUSABLE, findings, m.provenance());
    }

    /** The moving coil under another label. */
    public static Measurement labelled(String label) {
        Measurement m = movingCoil();
        return new Measurement(
                microphone(label), m.curve(), m.route(), m.routeReason(), m.usability(), m.findings(), m.provenance());
    }

    /** The moving coil in third octaves. */
    public static Measurement thirdOctaves() {
        return measurement("Bench dynamic 2", movingCoilCurve(3, 30, 18000), Usability.USABLE, List.of());
    }

    /** Third octaves with two shared causes; the first band is rejected. */
    public static Measurement withSharedCauses() {
        FrequencyBands bands = FrequencyBands.within(3, 50, 16000);
        int n = bands.size();
        double[][] moved = new double[4][n];
        List<PlaneCovariance> noise = new ArrayList<>();
        List<BandValue> values = new ArrayList<>();
        for (int b = 0; b < n; b++) {
            if (b == 0) {
                for (double[] m : moved) {
                    m[b] = Double.NaN;
                }
                noise.add(null);
                values.add(BandValue.rejected(bands.midband(b), 2));
                continue;
            }
            moved[0][b] = 1 + 0.1 * b;
            moved[1][b] = -0.5;
            moved[2][b] = 0.3;
            moved[3][b] = 0.02 * b;
            PlaneCovariance own = PlaneCovariance.circular(0.4 + 0.01 * b);
            noise.add(own);
            PlaneCovariance all = own.plus(PlaneCovariance.ofCause(moved[0][b], moved[1][b]))
                    .plus(PlaneCovariance.ofCause(moved[2][b], moved[3][b]));
            values.add(BandValue.complex(
                    bands.midband(b), 200, 3 * b, all, 4, 0.02, 50, new BandBudget(0.5, 2, 0.3, 0, 0)));
        }
        CurveCovariance covariance = CurveCovariance.of(
                List.of(
                        SharedCause.ofOhms("level of take-1.wav", CauseOrigin.DRIFT, moved[0], moved[1]),
                        SharedCause.ofOhms("resistor of 150 Ω", CauseOrigin.LOADS, moved[2], moved[3])),
                noise);
        return measurement(
                "Bench dynamic 2", new ImpedanceCurve(bands, values, false, covariance), Usability.USABLE, List.of());
    }

    private static Measurement measurement(
            String label, ImpedanceCurve curve, Usability usability, List<Finding> findings) {
        return new Measurement(
                microphone(label),
                curve,
                Route.STIMULUS,
                "the session holds the stimulus and every take follows it",
                usability,
                findings,
                provenance());
    }

    private static Microphone microphone(String label) {
        return new Microphone(label, "Lindqvist & Daughter", null, "0042", "ribbon", 300.0, null, null);
    }

    private static Provenance provenance() {
        return new Provenance(
                "0.1.0",
                Instant.parse("2026-03-04T05:06:07Z"),
                "3000 Ω ± 5 % ∥ 470 pF",
                List.of(
                        new TakeOrigin(new FileOrigin("take-1.wav", SHA), 150, 1, 1, null, 0, 0, false),
                        new TakeOrigin(
                                new FileOrigin("take-2.wav", SHA),
                                Double.POSITIVE_INFINITY,
                                0,
                                1,
                                2,
                                Double.NaN,
                                -0.125,
                                true)),
                new FileOrigin("stimulus.wav", SHA));
    }
}
