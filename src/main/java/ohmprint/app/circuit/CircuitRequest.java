package ohmprint.app.circuit;

import java.nio.file.Path;
import org.jspecify.annotations.Nullable;

/**
 * Which circuit is wanted.
 *
 * @param curve the curve, named as for {@link ohmprint.app.NamedCurve#of}
 * @param family {@code moving-coil}, {@code ribbon} or {@code capacitor-coupled}, or null for whichever fits
 * @param out file for the subcircuit, or null for none
 */
public record CircuitRequest(
        String curve, @Nullable String family, @Nullable Path out) {}
