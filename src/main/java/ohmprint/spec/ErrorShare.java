package ohmprint.spec;

/**
 * What the error of one reading, in units of its standard uncertainty, is made of: {@code Σ common_k·x_k + own·e}, with
 * independent standard normal variables x (one for each cause that all bands share) and e (of this reading alone). The
 * squares add up to one.
 *
 * @param common effect of each shared cause
 * @param own effect of what this reading does not share
 * @param ownBand band whose own error e is; readings of the same band have the same e. −1 for one that is met nowhere else
 */
record ErrorShare(double[] common, double own, int ownBand) {
    /** Nothing is known about how this error belongs together with others. */
    static final ErrorShare UNKNOWN = new ErrorShare(new double[0], 1, -1);

    boolean isKnown() {
        return common.length > 0;
    }

    /** Correlation with the error of another reading of the same curve, both being known. */
    double correlationWith(ErrorShare other) {
        double sum = ownBand >= 0 && ownBand == other.ownBand ? own * other.own : 0;
        for (int k = 0; k < common.length; k++) {
            sum += common[k] * other.common[k];
        }
        return sum;
    }
}
