package ohmprint.estimate;

import java.util.List;

/**
 * A Z of its own in every bin, for what the bins of all bands say together about the errors they share: such an error must
 * not pass for a bend of Z within a band.
 */
final class BinwiseFit {
    /** Steps by which a bin moves from the Z of its neighbourhood to its own. */
    private static final int STEPS = 2;
    /** Longest such step, as a change of 1 + Z·y relative to itself. */
    private static final double LONGEST_STEP = 0.3;

    private final BinObservations obs;
    private final DividerPoint point;
    private final ProjectedBin bin;
    private final BandSolver neighbourhood;

    /**
     * A fit of takes that may depart from what was entered.
     *
     * @param obs what the takes hold, with the departures of gain and delay taken out
     * @param point the dividers with the departures of loads and input
     * @param takes the takes as entered
     */
    BinwiseFit(BinObservations obs, DividerPoint point, LoadedTakes takes) {
        this.obs = obs;
        this.point = point;
        this.bin = new ProjectedBin(takes.size());
        this.neighbourhood = new BandSolver(obs, point, takes, List.of());
    }

    /**
     * Adds what the bins {@code [from, to)} say about the nuisances, with a Z of its own in each bin: that of a straight fit
     * of all of them, then moved to what the bin itself prefers. Bins that cannot be fitted at all add nothing.
     *
     * @param hz frequency about which the straight fit is made
     */
    void addTo(SharedInformation sum, int from, int to, double hz) {
        ImpedancePolynomial straight = neighbourhood.straight(from, to, hz);
        if (straight == null) {
            return;
        }
        for (int i = from; i < to; i++) {
            straight.place(point, obs.hz(i));
            bin.evaluate(obs, i, point);
            for (int step = 0; step < STEPS; step++) {
                step(i);
            }
            sum.add(bin, point);
        }
    }

    /** Adds what bin {@code i} says about the nuisances with Z at a given place, ohms. */
    void addAt(SharedInformation sum, int i, double resistanceOhm, double reactanceOhm) {
        point.frequency(obs.hz(i));
        point.impedance(resistanceOhm, reactanceOhm);
        bin.evaluate(obs, i, point);
        sum.add(bin, point);
    }

    /** One step of Newton's method on this bin alone, no longer than what the divider is straight over. */
    private void step(int i) {
        double info = bin.information();
        if (!(info > 0)) {
            return;
        }
        double dRe = -bin.gradientRe() / info;
        double dIm = -bin.gradientIm() / info;
        double reach = 0;
        for (int k = 0; k < obs.takes(); k++) {
            reach = Math.max(reach, Math.hypot(point.yRe(k), point.yIm(k)) * Math.hypot(point.hRe(k), point.hIm(k)));
        }
        double length = Math.hypot(dRe, dIm) * reach;
        double scale = length > LONGEST_STEP ? LONGEST_STEP / length : 1;
        point.impedance(point.zRe() + scale * dRe, point.zIm() + scale * dIm);
        bin.evaluate(obs, i, point);
    }
}
