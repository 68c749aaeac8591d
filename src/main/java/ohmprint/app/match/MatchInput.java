package ohmprint.app.match;

import ohmprint.app.match.MatchRequest.Electronics;
import ohmprint.circuit.InputImpedance;
import ohmprint.text.Numbers;
import org.jspecify.annotations.Nullable;

/**
 * One input that a microphone may be plugged into.
 *
 * @param name what the bench calls it
 * @param impedance its impedance, phantom feeds included where they lie across it, the cable not
 * @param ohm its resistance in ohms as stated; NaN for a measured curve
 * @param outputOhm output resistance in ohms, of a booster; 0 for a preamplifier
 * @param electronics its gain and noise
 */
record MatchInput(String name, InputImpedance impedance, double ohm, double outputOhm, Electronics electronics) {
    /** A resistance, with a capacitance or none, both exact. */
    static MatchInput ofOhms(double ohm, double pf, boolean phantomFeeds, Electronics electronics) {
        InputImpedance bare = InputImpedance.ofOhms(ohm, 0, pf, 0);
        String ohms = ohm < 10_000 ? Numbers.brief(ohm) + " Ω" : Numbers.brief(ohm / 1000) + " kΩ";
        String name = pf == 0 ? ohms : ohms + " ∥ " + Numbers.brief(pf) + " pF";
        return new MatchInput(name, phantomFeeds ? bare.withPhantomFeeds() : bare, ohm, 0, electronics);
    }

    /** This input seen through a line, which may have no cable. */
    InputImpedance through(MatchRequest.Line line, double cableTolerancePercent) {
        return line.cableMetres() * line.cablePfPerMetre() == 0
                ? impedance
                : impedance.withCable(line.cableMetres(), line.cablePfPerMetre(), cableTolerancePercent);
    }

    /** The gain in decibels, or null. */
    @Nullable
    Double gainDb() {
        return electronics.gainDb();
    }
}
