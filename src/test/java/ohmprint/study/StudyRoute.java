package ohmprint.study;

/** What the fast study imitates of each coherent route: snapshots per bin and how well their noise is known. */
enum StudyRoute {
    /** One snapshot per bin, noise as stated. */
    STIMULUS("stimulus", 1, 0, 1e-9),
    /** Several snapshots of a sound that differs from one to the next. */
    COMMON("common source", 4, 0, 1e-9),
    /** One value per bin, whose noise is stated on average over neighbouring bins only. */
    REFERENCE("reference", 1, 0.2, 0);

    private final String words;
    private final int snapshots;
    private final double noiseScatter;
    private final double delaySeconds;

    StudyRoute(String words, int snapshots, double noiseScatter, double delaySeconds) {
        this.words = words;
        this.snapshots = snapshots;
        this.noiseScatter = noiseScatter;
        this.delaySeconds = delaySeconds;
    }

    /** For tables. */
    String words() {
        return words;
    }

    /** Independent snapshots per bin. */
    int snapshots() {
        return snapshots;
    }

    /** Standard deviation of the logarithm of the bins' true over stated noise variance. */
    double noiseScatter() {
        return noiseScatter;
    }

    /** Standard deviation of the delay that is left, seconds. */
    double delaySeconds() {
        return delaySeconds;
    }
}
