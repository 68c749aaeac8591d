package ohmprint.report;

import org.jspecify.annotations.Nullable;

/** What the axes of curves laid over each other must hold. */
final class OverlayRanges {
    private static final double LEAST_PERCENT = 2;
    private static final double MOST_PERCENT = 400;
    private static final double MARGIN = 0.06;

    private OverlayRanges() {}

    /** Hertz: what any of the curves needs. */
    static CurveRanges hertz(OverlayData data) {
        return data.curves().stream()
                .map(c -> CurveRanges.hertz(c.curve().bands()))
                .reduce(OverlayRanges::both)
                .orElseThrow();
    }

    /** Ohms: what any of the curves needs. */
    static CurveRanges ohms(OverlayData data) {
        return data.curves().stream()
                .map(c -> CurveRanges.ohms(c.curve()))
                .reduce(OverlayRanges::both)
                .orElseThrow();
    }

    /**
     * Percent: all differences and zero, with their range as far as it is not much wider than the differences themselves; null
     * when there are none.
     */
    static @Nullable CurveRanges percent(OverlayData data) {
        double least = 0;
        double most = 0;
        double widest = LEAST_PERCENT;
        boolean any = false;
        for (OverlayData.Curve curve : data.curves()) {
            for (OverlayData.Point p : curve.difference()) {
                any = true;
                widest = Math.max(widest, Math.abs(p.value()));
                least = Math.min(least, p.value());
                most = Math.max(most, p.value());
            }
        }
        if (!any) {
            return null;
        }
        for (OverlayData.Curve curve : data.curves()) {
            for (OverlayData.Point p : curve.difference()) {
                least = Math.min(least, Math.max(p.low(), p.value() - widest));
                most = Math.max(most, Math.min(p.high(), p.value() + widest));
            }
        }
        most = Math.min(most, MOST_PERCENT);
        double room = Math.max(most - least, LEAST_PERCENT) * MARGIN;
        return new CurveRanges(least - room, most + room);
    }

    private static CurveRanges both(CurveRanges a, CurveRanges b) {
        return new CurveRanges(Math.min(a.low(), b.low()), Math.max(a.high(), b.high()));
    }
}
