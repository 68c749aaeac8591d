package ohmprint.app.measure;

import java.util.List;
import ohmprint.circuit.Load;
import ohmprint.estimate.Priors;
import ohmprint.estimate.TimingCheck;

/** What a measurement is expected to believe of gains and delays of its takes before these are recorded. */
public final class ExpectedPriors {
    private ExpectedPriors() {}

    /**
     * For takes in this order.
     *
     * @param gain standard uncertainty of ln g of every take, as believed
     * @param loads loads of the takes
     */
    public static Priors of(double gain, List<Load> loads) {
        int different = (int) loads.stream().mapToDouble(Load::ohm).distinct().count();
        return of(gain, loads.size() - different);
    }

    /**
     * For takes among which so many repeat the load of another one. These tell how far the gains scatter: expected is what is
     * believed of it, known as well as {@link GainScatter} will have it. Playback and recording count as running on one clock.
     *
     * @param gain standard uncertainty of ln g of every take, as believed
     * @param repeats number of takes whose load an earlier one has
     */
    public static Priors of(double gain, int repeats) {
        GainScatter scatter = GainScatter.believed(gain).expecting(repeats);
        return new Priors(scatter.relative(), scatter.freedom(), TimingCheck.ONE_CLOCK_SECONDS);
    }
}
