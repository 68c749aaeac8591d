package ohmprint.study;

import ohmprint.impedance.SharedErrors;

/** Kinds of fit that the study compares. */
enum Fit {
    /** Every band for itself. */
    SEPARATE("separate", SharedErrors.CARRIED),
    /** What all bands share is fitted to all of them at once. */
    JOINT("joint", SharedErrors.FITTED);

    private final String words;
    private final SharedErrors shared;

    Fit(String words, SharedErrors shared) {
        this.words = words;
        this.shared = shared;
    }

    /** For tables. */
    String words() {
        return words;
    }

    /** What it does about errors that all bands share. */
    SharedErrors shared() {
        return shared;
    }

    /** What {@code measure} does unless asked otherwise. */
    static Fit usual() {
        return JOINT.shared == SharedErrors.USUAL ? JOINT : SEPARATE;
    }
}
