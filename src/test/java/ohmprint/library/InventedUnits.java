package ohmprint.library;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Microphone;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.Provenance;
import ohmprint.impedance.Provenance.FileOrigin;
import ohmprint.impedance.Provenance.TakeOrigin;
import ohmprint.impedance.Route;
import ohmprint.impedance.Usability;

/** Invented microphones of invented models, each number always the same one: a resistance, an inductance, a resonance. */
public final class InventedUnits {
    private static final String[] MODELS = {"Osprey", "Heron", "Wren", "Plover", "Dunlin", "Siskin", "Curlew"};
    private static final String[] MAKERS = {"Kettle Lane Audio", "Brook & Fell", "Ostrava Loft"};

    private InventedUnits() {}

    /** Unit number n of its model, measured on a day of its own, on third octaves. */
    public static Measurement unit(int n) {
        return unit(n, 3, 0.01);
    }

    /**
     * The same on another grid.
     *
     * @param relative standard uncertainty of |Z|, as a share of it
     */
    public static Measurement unit(int n, int fraction, double relative) {
        return unit(n, n % MODELS.length, fraction, relative);
    }

    /** A unit of a given model. */
    public static Measurement unit(int n, int model, int fraction, double relative) {
        Random random = new Random(7919L * n + model);
        double scatter = 1 + 0.04 * random.nextGaussian();
        double r = (60 + 90 * model) * scatter;
        double l = (0.0004 + 0.0011 * (model % 3)) * (1 + 0.03 * random.nextGaussian());
        double peak = (50 + 60 * (model % 4)) * (1 + 0.05 * random.nextGaussian());
        FrequencyBands bands = FrequencyBands.within(fraction, 20, 20_000);
        List<BandValue> values = new ArrayList<>();
        for (double f : bands.midbands()) {
            double w = f / peak - peak / f;
            double re = r * (1 + 0.8 / (1 + w * w));
            double im = 2 * Math.PI * f * l - 0.8 * r * w / (1 + w * w);
            double u = relative * Math.hypot(re, im);
            values.add(BandValue.complex(
                    f,
                    re,
                    im,
                    PlaneCovariance.circular(u),
                    1.96 * u,
                    1.96 * relative,
                    40,
                    new BandBudget(u, 0, 0, 0, 0)));
        }
        return new Measurement(
                new Microphone(
                        MODELS[model] + " unit " + n,
                        MAKERS[model % MAKERS.length],
                        MODELS[model],
                        "KL-" + n,
                        model % 2 == 0 ? "ribbon" : "moving-coil",
                        r,
                        null,
                        null),
                new ImpedanceCurve(bands, values, false),
                Route.STIMULUS,
                "stimulus.wav is found in the takes",
                Usability.USABLE,
                List.of(),
                provenance(n));
    }

    /** What goes into a library. */
    public static NewMeasurement added(Measurement m) {
        return new NewMeasurement(CurveJson.write(m), m, "Ada Quill", null);
    }

    /** Unit number n, as it goes into a library. */
    public static NewMeasurement added(int n) {
        return added(unit(n));
    }

    private static Provenance provenance(int n) {
        return new Provenance(
                "0.1.0",
                Instant.parse("2026-02-01T08:00:00Z").plusSeconds(60L * n),
                "3000 Ω ± 5 % ∥ 470 pF",
                List.of(take(n, 1, 220), take(n, 2, Double.POSITIVE_INFINITY)),
                new FileOrigin("stimulus.wav", "%064x".formatted(77)));
    }

    private static TakeOrigin take(int n, int place, double load) {
        return new TakeOrigin(
                new FileOrigin("take-" + place + ".wav", "%056x%08x".formatted(place, n)),
                load,
                0.1,
                1,
                null,
                0,
                0,
                false);
    }
}
