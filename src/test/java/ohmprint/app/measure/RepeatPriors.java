package ohmprint.app.measure;

import java.util.List;
import ohmprint.estimation.BinObservations;
import ohmprint.estimation.CoherentSolver;
import ohmprint.estimation.CurveEstimate;
import ohmprint.estimation.LoadedTakes;
import ohmprint.estimation.Priors;
import ohmprint.estimation.TakeAgreement;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.SharedErrors;
import ohmprint.session.Take;

/** What {@code measure} makes of takes with a repeated load, from what they hold on. */
public final class RepeatPriors {
    private RepeatPriors() {}

    /**
     * The curve, with the gains believed to scatter as believed, as the repeats show, and as the takes leave over.
     *
     * @param obs what the takes hold
     * @param takes what they drive
     * @param believed standard uncertainty of ln g
     * @param bands the grid
     */
    public static CurveEstimate solve(BinObservations obs, LoadedTakes takes, double believed, FrequencyBands bands) {
        List<Take> entries = takes.loads().stream()
                .map(load -> new Take(load.label() + ".wav", load))
                .toList();
        TakeSet set = TakeSet.of(entries, entries, takes.input(), obs);
        RepeatDrift repeats = RepeatDrift.of(set);
        BinObservations levelled = repeats.levelled(set).bins();
        Priors priors = LevelDrift.believed(believed)
                .with(repeats)
                .atLeast(TakeAgreement.of(levelled, takes).gainSpread())
                .priors(0);
        return new CoherentSolver(bands, priors, SharedErrors.CARRIED).solve(levelled, takes);
    }
}
