package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CauseOrigin;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Route;
import ohmprint.impedance.Usability;
import ohmprint.session.Session;
import ohmprint.text.Numbers;

/** What dominates the uncertainty, what is taken on trust, and what to do about it. */
public final class Advice {
    private Advice() {}

    /** One to three sentences about the curve of a microphone and the session that it came from; none when its takes are gone. */
    public static List<String> of(Measurement measurement, Session session) {
        return of(measurement, session, DeviceUnderTest.MICROPHONE);
    }

    /** One to three sentences. */
    static List<String> of(Measurement measurement, Session session, DeviceUnderTest subject) {
        List<BandValue> measured = measurement.curve().values().stream()
                .filter(v -> v.isMeasured() && v.budget() != null)
                .toList();
        if (measured.isEmpty() || session.takes().isEmpty() || measurement.usability() == Usability.UNUSABLE) {
            return List.of();
        }
        CauseOrigin largest = BandBudget.of(origin -> share(measured, origin)).largest();
        List<String> out = new ArrayList<>();
        out.add(String.format(
                Locale.ROOT,
                "Most of the uncertainty comes from %s (%.0f %% of the variance). %s",
                named(largest, subject),
                100 * share(measured, largest),
                remedy(largest, measurement.route(), repeatsALoad(session), subject)));
        boolean shown = measurement.route() == Route.REFERENCE || measurement.route() == Route.POWER;
        if (!shown && !repeatsALoad(session)) {
            out.add(unseenDrift(measured, session, subject));
        }
        return out;
    }

    /** Share of an origin in the variance, mean of the bands. */
    private static double share(List<BandValue> values, CauseOrigin origin) {
        return values.stream()
                .mapToDouble(v -> {
                    BandBudget b = v.budget();
                    double u = b == null ? 0 : b.of(origin);
                    double all = b == null ? 1 : b.combined();
                    return all > 0 ? u * u / (all * all) : 0;
                })
                .average()
                .orElse(0);
    }

    private static String named(CauseOrigin origin, DeviceUnderTest subject) {
        return switch (origin) {
            case NOISE -> origin.word();
            case DRIFT -> "level drift between takes";
            case LOADS -> "the tolerance of the " + subject.resistor() + "s";
            case INPUT -> subject == DeviceUnderTest.INPUT ? "the generator" : "the recording input";
            case TIMING -> "timing between takes";
        };
    }

    private static String remedy(CauseOrigin origin, Route route, boolean repeated, DeviceUnderTest subject) {
        return switch (origin) {
            case NOISE ->
                subject == DeviceUnderTest.INPUT
                        ? "Play louder or use a longer sweep."
                        : "Play louder, come closer, use a longer sweep or a quieter room.";
            case DRIFT -> steadier(route, repeated, subject);
            case LOADS ->
                "Measure the resistors and state "
                        + (subject == DeviceUnderTest.INPUT ? "series_u_ohm." : "load_u_ohm.");
            case INPUT ->
                subject == DeviceUnderTest.INPUT
                        ? "Measure its output impedance and state its tolerance, or buffer it."
                        : "Measure the input and state its tolerance.";
            case TIMING -> "Play and record with one interface.";
        };
    }

    private static String steadier(Route route, boolean repeated, DeviceUnderTest subject) {
        if (subject == DeviceUnderTest.INPUT) {
            return repeated
                    ? "Let the equipment warm up and touch nothing but the resistor."
                    : "Record the first series resistor again at the end.";
        }
        return switch (route) {
            case POWER -> "Play the same sound in all takes, or add a reference channel.";
            case REFERENCE -> "Let the preamplifier warm up and touch nothing but the load.";
            default ->
                repeated
                        ? "Let the equipment warm up, touch nothing but the load, or add a reference channel."
                        : "Record the first load again at the end, or add a reference channel.";
        };
    }

    private static boolean repeatsALoad(Session session) {
        return session.takes().stream()
                        .mapToDouble(t -> t.load().ohm())
                        .distinct()
                        .count()
                < session.takes().size();
    }

    /** Two takes cannot show that the level has changed between them: say what it would do. */
    private static String unseenDrift(List<BandValue> measured, Session session, DeviceUnderTest subject) {
        double assumed = session.levelDriftPercent() == null ? Double.NaN : session.levelDriftPercent();
        double perTenth = measured.stream()
                .filter(v -> v.budget() != null)
                .mapToDouble(v -> driftPerTenthDecibel(v, session, subject))
                .sorted()
                .skip(measured.size() / 2)
                .findFirst()
                .orElse(0);
        String trust = Double.isNaN(assumed)
                ? "These takes cannot show whether the level changed between them; the band takes a steady level on trust."
                : "The band takes the stated level drift of " + Numbers.digits(assumed, 2) + " % on trust.";
        return String.format(
                Locale.ROOT,
                "%s A change of 0.1 dB in one take would move the curve by about %.1f %%: record the first %s again at the"
                        + " end to see it.",
                trust,
                perTenth,
                subject.resistor());
    }

    /** Response of |Z| to 0.1 dB with the two most different loads, per cent. */
    private static double driftPerTenthDecibel(BandValue v, Session session, DeviceUnderTest subject) {
        double[] y = session.takes().stream()
                .mapToDouble(t -> t.load().conductance()
                        + session.input().admittance(v.frequencyHz()).getReal())
                .sorted()
                .toArray();
        double z = subject.ohm(v.magnitudeOhm());
        double low = y[0];
        double high = y[y.length - 1];
        double perNeper = (1 + z * low) * (1 + z * high) / ((high - low) * z);
        return 100 * perNeper * 0.1 / 8.685889638;
    }
}
