package ohmprint.app.measure;

import java.util.List;
import java.util.stream.IntStream;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.SharedErrors;
import ohmprint.estimate.BinObservations;
import ohmprint.estimate.CoherentSolver;
import ohmprint.estimate.CurveEstimate;
import ohmprint.estimate.LoadedTakes;
import ohmprint.estimate.Priors;
import ohmprint.estimate.TakeAgreement;
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
        int[] places = IntStream.range(0, entries.size()).toArray();
        RepeatedLoads repeats = RepeatedLoads.of(obs, entries, places);
        BinObservations levelled = repeats.levelled(obs, places);
        GainScatter scatter = GainScatter.believed(believed)
                .with(repeats)
                .atLeast(TakeAgreement.of(levelled, takes).gainSpread());
        Priors priors = new Priors(scatter.relative(), scatter.freedom(), 0);
        return new CoherentSolver(bands, priors, SharedErrors.CARRIED).solve(levelled, takes);
    }
}
