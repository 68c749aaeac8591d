package ohmprint.signal;

import java.util.List;
import java.util.OptionalDouble;

/** The mains fundamental whose harmonics explain a set of lines best. */
final class MainsComb {
    private static final double[] NOMINAL_HZ = {50, 60};
    private static final double DEVIATION_HZ = 0.5;
    private static final double STEP_HZ = 0.005;
    private static final int HARMONICS = 40;
    private static final double SURE_DB = 14;
    private static final double LEAST_SCORED_DB = 8;

    private final double fundamental;
    private final double resolutionHz;

    private MainsComb(double fundamental, double resolutionHz) {
        this.fundamental = fundamental;
        this.resolutionHz = resolutionHz;
    }

    static MainsComb fit(List<HumLines.Line> peaks, double resolutionHz) {
        double best = 0;
        double bestHz = Double.NaN;
        for (double nominal : NOMINAL_HZ) {
            for (double hz = nominal - DEVIATION_HZ; hz <= nominal + DEVIATION_HZ; hz += STEP_HZ) {
                double score = new MainsComb(hz, resolutionHz).score(peaks);
                if (score > best * (1 + 1e-12)) {
                    best = score;
                    bestHz = hz;
                }
            }
        }
        MainsComb comb = new MainsComb(bestHz, resolutionHz);
        return comb.isSure(peaks) ? comb.refined(peaks) : new MainsComb(Double.NaN, resolutionHz);
    }

    OptionalDouble fundamentalHz() {
        return Double.isNaN(fundamental) ? OptionalDouble.empty() : OptionalDouble.of(fundamental);
    }

    /** The order of the harmonic at a frequency, 0 when it is none. */
    int order(double hz) {
        if (Double.isNaN(fundamental)) {
            return 0;
        }
        int h = (int) Math.round(hz / fundamental);
        return h >= 1 && h <= HARMONICS && Math.abs(hz - h * fundamental) <= tolerance() ? h : 0;
    }

    /** A quarter of the resolution for the peak's own error, and what the grid leaves. */
    private double tolerance() {
        return 0.25 * resolutionHz + 0.1;
    }

    private double score(List<HumLines.Line> peaks) {
        double sum = 0;
        for (HumLines.Line p : peaks) {
            int h = order(p.hz());
            if (h > 0) {
                double closeness = 1 - 0.5 * Math.abs(p.hz() - h * fundamental) / tolerance();
                sum += (p.prominenceDb() - LEAST_SCORED_DB) * closeness / Math.sqrt(h);
            }
        }
        return sum;
    }

    private boolean isSure(List<HumLines.Line> peaks) {
        long matched = peaks.stream().filter(p -> order(p.hz()) > 0).count();
        boolean strong =
                peaks.stream().anyMatch(p -> order(p.hz()) > 0 && order(p.hz()) <= 6 && p.prominenceDb() >= SURE_DB);
        return strong || matched >= 3;
    }

    /** Least squares over the matched harmonics: f = Σh·f_h/Σh², each weighted by its prominence. */
    private MainsComb refined(List<HumLines.Line> peaks) {
        double top = 0;
        double bottom = 0;
        for (HumLines.Line p : peaks) {
            int h = order(p.hz());
            if (h > 0) {
                double weight = Math.pow(10, Math.min(p.prominenceDb(), 40) / 10);
                top += weight * h * p.hz();
                bottom += weight * h * h;
            }
        }
        return new MainsComb(top / bottom, resolutionHz);
    }
}
