package ohmprint.app.workspace;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What came of measuring a session.
 *
 * @param curve the curve, or null when the evidence does not support one and nothing was written
 * @param verdict how far it can be trusted
 * @param findings what was noticed
 */
public record Measured(@Nullable CurveView curve, String verdict, List<FindingView> findings) {}
