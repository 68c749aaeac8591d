package ohmprint.circuit.fit;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** What kind of microphone a circuit belongs to. */
public enum Family {
    /** A coil that moves. */
    MOVING_COIL("moving-coil"),
    /** A ribbon with its transformer. */
    RIBBON("ribbon"),
    /** An active output behind capacitors. */
    CAPACITOR_COUPLED("condenser"),
    /** A resistance, perhaps with an inductance: every family looks like that where it shows nothing of its own. */
    PLAIN(null);

    private final @Nullable String transducer;

    Family(@Nullable String transducer) {
        this.transducer = transducer;
    }

    /** Word in files and options: lower case with hyphens. */
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** Whether a microphone of that transducer, as a session states it, may look like this. */
    public boolean suits(String stated) {
        return transducer == null || transducer.equals(stated);
    }
}
