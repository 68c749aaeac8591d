package ohmprint.session;

import java.util.Locale;

/** What was played during the takes. */
public enum StimulusKind {
    /** A sine whose frequency moves through the range once. */
    SWEEP,
    /** Noise, recorded or from a generator. */
    NOISE;

    /** The word used in the manifest: lower case. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
