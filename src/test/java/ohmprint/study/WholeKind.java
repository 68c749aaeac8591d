package ohmprint.study;

import java.util.EnumSet;
import java.util.Locale;
import java.util.Set;

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
    CLIPPED("two loads, one take clipped", true),
    RESONANT("coil of Q 4 to 12 between 30 and 200 Hz, sweep", false),
    NO_LEAD_IN("takes cut to the sweep, no silence", false),
    MUSIC("music with its file", false),
    STEPPED_SINES("stepped sines with their file", false),
    RADIO_TONE("a fading tone in the open take, sweep", false);

    /** Kinds of sound takes in which a take was accused once. */
    static final Set<WholeKind> ODD = EnumSet.of(NO_LEAD_IN, MUSIC, STEPPED_SINES, RADIO_TONE);

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
