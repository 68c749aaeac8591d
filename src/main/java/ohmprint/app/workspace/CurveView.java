package ohmprint.app.workspace;

import java.util.List;
import java.util.function.ToDoubleFunction;
import ohmprint.app.NamedCurve;
import ohmprint.app.measure.ConsistencyWords;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CauseOrigin;
import ohmprint.impedance.Finding;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Microphone;
import ohmprint.impedance.Provenance.TakeOrigin;
import ohmprint.text.Numbers;

/**
 * A measurement in plain values, one array per quantity and one value per band in each; NaN where there is none.
 *
 * @param ref by which it is named: {@code session:NAME} or {@code library:ID}
 * @param name name of the session, or identifier in the library
 * @param label what the bench calls the microphone
 * @param microphone the microphone
 * @param verdict {@code usable}, {@code doubtful} or {@code unusable}
 * @param route {@code stimulus}, {@code reference}, {@code common} or {@code power}
 * @param routeReason why that route was taken
 * @param parallelWithInput whether the values are those of the source in parallel with an unknown input
 * @param outdated whether the session has changed since, so that this is no longer its curve; false of the library
 * @param measuredAt when it was computed, ISO 8601
 * @param input the recording input in words
 * @param loads the loads in words, in the order of the takes
 * @param advice what dominates the uncertainty and what would lessen it; none where the session is not at hand
 * @param consistency how well the takes agree, sentences without a full stop; none where that is not known
 * @param findings what was noticed, most serious first
 * @param bandsPerOctave the grid
 * @param bands the curve
 * @param budget standard uncertainty of |Z| by origin
 */
public record CurveView(
        String ref,
        String name,
        String label,
        Microphone microphone,
        String verdict,
        String route,
        String routeReason,
        boolean parallelWithInput,
        boolean outdated,
        String measuredAt,
        String input,
        List<String> loads,
        List<String> advice,
        List<String> consistency,
        List<Finding> findings,
        int bandsPerOctave,
        Bands bands,
        Budget budget) {

    /**
     * Values per band.
     *
     * @param frequencyHz midbands in hertz, ascending
     * @param magnitudeOhm |Z| in ohms
     * @param magnitudeU95Ohm its 95 % uncertainty
     * @param phaseDeg phase in degrees
     * @param phaseU95Deg its 95 % uncertainty
     * @param resistanceOhm R in ohms
     * @param reactanceOhm X in ohms
     * @param snrDb signal over noise of the weakest take, dB
     * @param status {@code measured}, {@code interval} or {@code rejected}
     * @param magnitudeLowOhm lower bound of |Z| of an interval
     * @param magnitudeHighOhm upper bound of |Z| of an interval
     */
    public record Bands(
            double[] frequencyHz,
            double[] magnitudeOhm,
            double[] magnitudeU95Ohm,
            double[] phaseDeg,
            double[] phaseU95Deg,
            double[] resistanceOhm,
            double[] reactanceOhm,
            double[] snrDb,
            List<String> status,
            double[] magnitudeLowOhm,
            double[] magnitudeHighOhm) {
        static Bands of(List<BandValue> values) {
            return new Bands(
                    each(values, BandValue::frequencyHz),
                    each(values, BandValue::magnitudeOhm),
                    each(values, BandValue::magnitudeU95Ohm),
                    each(values, BandValue::phaseDeg),
                    each(values, BandValue::phaseU95Deg),
                    each(values, BandValue::resistanceOhm),
                    each(values, BandValue::reactanceOhm),
                    each(values, BandValue::snrDb),
                    values.stream().map(v -> v.status().word()).toList(),
                    each(values, BandValue::magnitudeLowOhm),
                    each(values, BandValue::magnitudeHighOhm));
        }
    }

    /**
     * Standard uncertainties of |Z| in ohms.
     *
     * @param components their origins
     * @param ohm one array per origin, one value per band in each; NaN unless measured
     */
    public record Budget(List<String> components, double[][] ohm) {
        static Budget of(List<BandValue> values) {
            List<CauseOrigin> origins = List.of(CauseOrigin.values());
            return new Budget(
                    origins.stream().map(CauseOrigin::word).toList(),
                    origins.stream().map(o -> part(values, o)).toArray(double[][]::new));
        }

        private static double[] part(List<BandValue> values, CauseOrigin origin) {
            return each(values, v -> {
                BandBudget budget = v.budget();
                return budget == null ? Double.NaN : budget.of(origin);
            });
        }
    }

    static CurveView of(String ref, NamedCurve stored, boolean outdated, List<String> advice) {
        Measurement m = stored.measurement();
        List<BandValue> values = m.curve().values();
        return new CurveView(
                ref,
                ref.substring(ref.indexOf(':') + 1),
                m.microphone().label(),
                m.microphone(),
                m.usability().word(),
                m.route().word(),
                m.routeReason(),
                m.curve().parallelWithInput(),
                outdated,
                m.provenance().computedAt().toString(),
                m.provenance().input(),
                m.provenance().takes().stream().map(CurveView::load).toList(),
                advice,
                ConsistencyWords.of(m.curve().consistency()),
                m.findings(),
                m.curve().bands().fraction(),
                Bands.of(values),
                Budget.of(values));
    }

    private static String load(TakeOrigin take) {
        return ohms(take.loadOhm()) + (take.leftOut() ? " (left out)" : "");
    }

    /** A load: {@code 220 Ω}, {@code open}. */
    private static String ohms(double ohm) {
        return Double.isInfinite(ohm) ? "open" : Numbers.ohms(ohm);
    }

    /** One quantity of all values as an array. */
    static <T> double[] each(List<T> values, ToDoubleFunction<T> one) {
        return values.stream().mapToDouble(one).toArray();
    }
}
