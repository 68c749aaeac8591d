package ohmprint.app.workspace;

import java.util.List;
import ohmprint.app.match.Electronics;
import ohmprint.app.match.LoadPrediction;
import ohmprint.app.match.MatchOutcome;
import ohmprint.curve.PredictedValue;

/**
 * Inputs of a workshop, and what a curve asks of any input.
 *
 * @param inputs what {@code inputs.yaml} in the workspace lists; none without that file
 * @param tenTimesOhm ten times the greatest |Z|
 * @param leastForLoss least resistance for a loss of 1 dB
 * @param leastForTilt least resistance for a tilt of 0.5 dB
 * @param einSourceOhm resistor that equivalent input noise counts as measured with, in ohms
 */
public record InputsView(
        List<Input> inputs, PredictedValue tenTimesOhm, Least leastForLoss, Least leastForTilt, double einSourceOhm) {
    /**
     * An input.
     *
     * @param name what the bench calls it
     * @param ohm its resistance in ohms as stated; NaN for a measured one
     * @param load what lies across the microphone, in words
     */
    public record Input(String name, double ohm, String load) {
        static Input of(LoadPrediction p) {
            return new Input(p.name(), p.loadOhm(), p.load());
        }
    }

    /**
     * A least resistance, see {@link ohmprint.app.match.Matching.LeastResistance}.
     *
     * @param ohm it, in ohms
     * @param upToOhm highest resistance that still keeps the limit; infinite without such a one
     * @param any whether every load keeps it
     */
    public record Least(PredictedValue ohm, double upToOhm, boolean any) {}

    static InputsView of(MatchOutcome outcome) {
        return new InputsView(
                outcome.inputs().stream().map(Input::of).toList(),
                outcome.tenTimes(),
                new Least(
                        outcome.leastForLoss().ohm(),
                        outcome.leastForLoss().upToOhm(),
                        outcome.leastForLoss().any()),
                new Least(
                        outcome.leastForTilt().ohm(),
                        outcome.leastForTilt().upToOhm(),
                        outcome.leastForTilt().any()),
                Electronics.USUAL_EIN_SOURCE_OHM);
    }
}
