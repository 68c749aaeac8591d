package ohmprint.app.check;

import java.nio.file.Path;
import org.jspecify.annotations.Nullable;

/**
 * What to check.
 *
 * @param curve what {@link ohmprint.app.NamedCurve} reads
 * @param specification file of the specification
 * @param out folder for verdict and pictures, or null for none
 */
public record CheckRequest(
        String curve, Path specification, @Nullable Path out) {}
