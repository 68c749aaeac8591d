package ohmprint.study;

/**
 * What one such cell gave.
 *
 * @param cell the cell
 * @param magnitudeCoverage share of the 95 % intervals of |Z| that hold the truth
 * @param lossCoverage the same of the loss into a load; NaN where none is predicted
 * @param errorPercent root mean square of the relative error of |Z|, percent
 * @param statedPercent root mean square of the stated 95 % uncertainty of |Z|, percent
 * @param lostSessions share of the sessions in which most intervals of |Z| do not hold the truth
 */
record FollowUpResult(
        StudyCell cell,
        double magnitudeCoverage,
        double lossCoverage,
        double errorPercent,
        double statedPercent,
        double lostSessions) {
    /** Sums over sessions and bands. */
    static final class Tally {
        private int bands;
        private int losses;
        private int inMagnitude;
        private int inLoss;
        private double square;
        private double stated;
        private int sessions;
        private int lost;
        private int bandsBefore;
        private int hitsBefore;

        /** Counts a band of the session that is being told. */
        void band(double relativeError, double relativeU95) {
            bands++;
            inMagnitude += Math.abs(relativeError) <= relativeU95 ? 1 : 0;
            square += relativeError * relativeError;
            stated += relativeU95 * relativeU95;
        }

        /** Counts a predicted loss. */
        void loss(double error, double u95) {
            losses++;
            inLoss += Math.abs(error) <= u95 ? 1 : 0;
        }

        /** Ends the session that is being told. */
        void session() {
            sessions++;
            lost += 2 * (inMagnitude - hitsBefore) < bands - bandsBefore ? 1 : 0;
            bandsBefore = bands;
            hitsBefore = inMagnitude;
        }

        FollowUpResult result(StudyCell cell) {
            return new FollowUpResult(
                    cell,
                    (double) inMagnitude / bands,
                    losses == 0 ? Double.NaN : (double) inLoss / losses,
                    100 * Math.sqrt(square / bands),
                    100 * Math.sqrt(stated / bands),
                    (double) lost / sessions);
        }
    }
}
