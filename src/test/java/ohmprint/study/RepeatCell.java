package ohmprint.study;

import java.util.Locale;
import java.util.SplittableRandom;
import ohmprint.app.measure.RepeatPriors;
import ohmprint.estimation.BinObservations;
import ohmprint.estimation.CurveEstimate;
import ohmprint.estimation.LoadedTakes;
import ohmprint.impedance.BandValue;
import ohmprint.study.Cell.Layout;

/**
 * Three loads and the first again, with gains near what the takes leave over: neither the repeat nor the misfit alone decides.
 *
 * <p>The standard deviation of a session's gains is drawn as the belief has it, {@code u₀·√(3/χ²₃)}, so that intervals of
 * Student's t hold the truth as often as they say.
 *
 * @param circuit what is measured
 * @param believed standard uncertainty of ln g that is believed, u₀
 * @param sessions how many sessions are drawn
 */
record RepeatCell(StudyCircuit circuit, double believed, int sessions) implements StudyCell.Drawn<FollowUpResult> {
    @Override
    public String name() {
        return String.format(
                Locale.ROOT,
                "%s, 3 loads and the first again, one repeat near the misfit, belief %.4f dB",
                circuit.words(),
                20 / Math.log(10) * believed);
    }

    @Override
    public long costOfOne() {
        return 6;
    }

    @Override
    public FollowUpResult run(Runnable done) {
        FollowUpResult.Tally tally = new FollowUpResult.Tally();
        for (int s = 0; s < sessions; s++) {
            SplittableRandom random = new SplittableRandom(seed(s));
            double chi = 0;
            for (int n = 0; n < 3; n++) {
                chi += Math.pow(random.nextGaussian(), 2);
            }
            Cell cell = new Cell(
                    circuit,
                    LoadSet.THREE_AND_FIRST,
                    Tolerance.MEASURED,
                    believed * Math.sqrt(3 / chi),
                    50,
                    StudyRoute.STIMULUS,
                    Layout.SPREAD,
                    1);
            Spectrum spectrum = new Spectrum(cell);
            LoadedTakes stated = cell.stated();
            BinObservations obs = DrawnSession.of(cell, spectrum, s);
            CurveEstimate estimate = RepeatPriors.solve(obs, stated, believed, spectrum.bands);
            for (int c = 0; c < spectrum.chosen.length; c++) {
                BandValue v = estimate.values().get(spectrum.chosen[c]);
                double truth = spectrum.truths(cell).get(c).abs();
                if (v.isMeasured()) {
                    tally.band(v.magnitudeOhm() / truth - 1, v.magnitudeU95Ohm() / truth);
                }
            }
            tally.session();
            done.run();
        }
        return tally.result(this);
    }
}
