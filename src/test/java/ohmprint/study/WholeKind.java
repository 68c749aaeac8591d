package ohmprint.study;

import java.util.Locale;

/** Kinds of whole sessions, as {@code fixtures/make/unseen.py} makes them. */
enum WholeKind {
    TWO_LOAD_SWEEP("two loads, sweep", false),
    ABA("first load repeated, source drifting by 0.05 dB", false),
    REFERENCE_SWEEP_DRIFT("three loads, sweep, reference channel, source drifting by 0.15 dB", false),
    COMMON_NOISE("three loads, the same noise, no file", false),
    REFERENCE_NOISE("three loads, fresh noise, reference channel", false),
    POWER_NOISE("four loads, fresh noise of even spectrum", false),
    POWER_GAUSSIAN("four loads, fresh Gaussian noise", false),
    POWER_UNEQUAL("four loads, fresh Gaussian noise of 5, 20, 8 and 12 s", false),
    WRONG_LOAD("four loads, one entered wrong", true),
    CLIPPED("two loads, one take clipped", true);

    private final String words;
    private final boolean faulty;

    WholeKind(String words, boolean faulty) {
        this.words = words;
        this.faulty = faulty;
    }

    /** For tables. */
    String words() {
        return words;
    }

    /** Whether a take has a fault that has to be told. */
    boolean isFaulty() {
        return faulty;
    }

    /** The script's word. */
    String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
