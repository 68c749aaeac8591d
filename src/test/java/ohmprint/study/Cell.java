package ohmprint.study;

import java.util.Locale;
import ohmprint.estimation.LoadedTakes;
import ohmprint.estimation.Priors;

/**
 * One combination of the study.
 *
 * @param circuit what is measured
 * @param loads through which loads
 * @param tolerance how well the bench is known
 * @param drift standard deviation of ln g of each take, drawn and stated alike
 * @param snrDb ratio of signal and noise per bin in a take without a resistor, dB
 * @param route what is imitated
 * @param layout how the bins lie
 * @param sessions how many sessions are drawn
 */
record Cell(
        StudyCircuit circuit,
        LoadSet loads,
        Tolerance tolerance,
        double drift,
        double snrDb,
        StudyRoute route,
        Layout layout,
        int sessions)
        implements StudyCell {
    /** The takes as stated. */
    LoadedTakes stated() {
        return loads.stated(circuit, tolerance);
    }

    /** What is believed about gains and delays. */
    Priors priors() {
        return new Priors(drift, route.delaySeconds());
    }

    /** The drift in decibels. */
    double driftDb() {
        return 20 / Math.log(10) * drift;
    }

    @Override
    public String name() {
        return String.format(
                Locale.ROOT,
                "%s, %s loads, %s, drift %.4f dB, %.0f dB, %s%s",
                circuit.words(),
                loads.words(),
                tolerance.words(),
                driftDb(),
                snrDb,
                route.words(),
                layout == Layout.EVEN ? ", all bands of a decade" : "");
    }

    /** How the bins of a cell lie in the bands. */
    enum Layout {
        /** Twelve bins in one twelfth-octave band of every octave, so that a session costs little and spans the whole range. */
        SPREAD,
        /** Bins at even distances in all twelfth-octave bands of one decade, as the planner counts them. */
        EVEN
    }
}
