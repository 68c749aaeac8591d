package ohmprint.estimate;

/**
 * Maximum-likelihood fit of one band.
 *
 * @param frequencyHz frequency f_m to which the value belongs, hertz
 * @param resistanceOhm Re Z(f_m), ohms
 * @param reactanceOhm Im Z(f_m), ohms
 * @param noiseVariance variance of either part from noise alone, Ω², for the stated noise of the observations
 * @param residual what the model leaves, in units of the stated noise: sum over snapshots
 * @param degreesOfFreedom complex degrees of freedom of the residual; its expectation if the noise is stated right
 * @param scoreScale observed over stated noise variance as the scores of the bins show it, weighted as the estimate is
 * @param scoreFreedom complex degrees of freedom of that
 * @param signalToNoise power ratio of signal and noise of the weakest take in the band
 * @param from first of the cells used
 * @param to one more than the last of them
 * @param bins number of bins used, each cell counting as those it was summed from
 * @param sensitivityRe response of R in ohms to one standard uncertainty of each shared nuisance
 * @param sensitivityIm response of X in ohms
 */
record BandFit(
        double frequencyHz,
        double resistanceOhm,
        double reactanceOhm,
        double noiseVariance,
        double residual,
        double degreesOfFreedom,
        double scoreScale,
        double scoreFreedom,
        double signalToNoise,
        int from,
        int to,
        int bins,
        double[] sensitivityRe,
        double[] sensitivityIm) {
    /** The same with the sensitivities to other causes. */
    BandFit withCauses(RemainingCauses causes) {
        return new BandFit(
                frequencyHz,
                resistanceOhm,
                reactanceOhm,
                noiseVariance,
                residual,
                degreesOfFreedom,
                scoreScale,
                scoreFreedom,
                signalToNoise,
                from,
                to,
                bins,
                causes.of(sensitivityRe),
                causes.of(sensitivityIm));
    }

    /** The same with an error of some size, in ohms, that is as good as noise in either part. */
    BandFit withDoubt(double ohm) {
        return new BandFit(
                frequencyHz,
                resistanceOhm,
                reactanceOhm,
                noiseVariance + ohm * ohm,
                residual,
                degreesOfFreedom,
                scoreScale,
                scoreFreedom,
                signalToNoise,
                from,
                to,
                bins,
                sensitivityRe,
                sensitivityIm);
    }
}
