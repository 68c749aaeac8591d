package ohmprint.app.measure;

import java.nio.file.Path;
import ohmprint.impedance.Route;
import ohmprint.impedance.SharedErrors;
import org.jspecify.annotations.Nullable;

/**
 * What to measure and how.
 *
 * @param session session folder, or its manifest
 * @param out folder for the results, or null for {@code result} within the session's folder
 * @param bandsPerOctave 1, 3, 6, 12 or 24, or null for the route's own: 12, or 3 on the power route
 * @param route the route to take, or null to let the evidence decide
 * @param fromHz lowest midband wanted, hertz
 * @param toHz highest midband wanted, hertz
 * @param sharedErrors what is done about errors that all bands share; the power route always carries them
 * @param force whether to write a result that the evidence does not support
 */
public record MeasureRequest(
        Path session,
        @Nullable Path out,
        @Nullable Integer bandsPerOctave,
        @Nullable Route route,
        double fromHz,
        double toHz,
        SharedErrors sharedErrors,
        boolean force) {
    /** The lowest midband when none is asked for, hertz. */
    public static final double DEFAULT_FROM_HZ = 20;

    /** The highest midband when none is asked for, hertz. */
    public static final double DEFAULT_TO_HZ = 20_000;

    /** Bands per octave when none are asked for, except on the power route. */
    public static final int DEFAULT_BANDS_PER_OCTAVE = 12;

    /** A request that leaves to the program what is done about errors that all bands share. */
    public MeasureRequest(
            Path session,
            @Nullable Path out,
            @Nullable Integer bandsPerOctave,
            @Nullable Route route,
            double fromHz,
            double toHz,
            boolean force) {
        this(session, out, bandsPerOctave, route, fromHz, toHz, SharedErrors.USUAL, force);
    }

    /** Everything left to the program. */
    public static MeasureRequest of(Path session) {
        return new MeasureRequest(session, null, null, null, DEFAULT_FROM_HZ, DEFAULT_TO_HZ, false);
    }
}
