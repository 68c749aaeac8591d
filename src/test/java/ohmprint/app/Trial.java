package ohmprint.app;

import java.nio.file.*;
import java.util.*;
import ohmprint.app.PlayedSession.Performance;
import ohmprint.signal.*;

public class Trial {
    static void one(String what, String kind, double[] file, double[] loads, Performance... how) throws Exception {
        Path p = Files.createTempDirectory("trial");
        PlayedSession s = new PlayedSession(p, what.hashCode(), kind, file);
        for (int k = 0; k < loads.length; k++) s.take(loads[k], how[k % how.length]);
        TakeFolder f = s.folder();
        long t0 = System.nanoTime();
        MeasureOutcome o = f.forced();
        long t1 = System.nanoTime();
        var sc = Truth.of(hz -> PlayedSession.COIL.impedance(hz))
                .score(o.measurement().curve(), 30, 18000);
        System.out.printf(
                "%-34s %s %s  med %.3f p95 %.3f max %.2f %% ph95 %.2f meas %.0f%% cov %.0f%% stated %.3f  %.2fs%n",
                what,
                o.measurement().route(),
                o.measurement().usability(),
                sc.magnitudePercent(50),
                sc.magnitudePercent(95),
                sc.magnitudePercent(100),
                sc.phaseDegrees(95),
                sc.measuredPercent(),
                sc.coveragePercent(),
                sc.statedPercent(),
                (t1 - t0) / 1e9);
        System.out.println("     " + o.measurement().routeReason());
        for (var x : o.measurement().findings())
            System.out.println("     " + x.code() + " " + x.take() + ": " + x.message());
    }

    static double[] gap(double[] x, double lead, int n, double gap, double tail) {
        int L = (int) (lead * 48000), G = (int) (gap * 48000), T = (int) (tail * 48000);
        double[] y = new double[L + n * x.length + (n - 1) * G + T];
        for (int r = 0; r < n; r++) System.arraycopy(x, 0, y, L + r * (x.length + G), x.length);
        return y;
    }

    public static void main(String[] a) throws Exception {
        double[] sw = ExponentialSweep.ofBand(20, 20000, 3, -6, 48000).samples();
        double[] sw6 = ExponentialSweep.ofBand(20, 20000, 5, -6, 48000).samples();
        double[] no = BandNoise.period(6 * 48000, BandNoise.Colour.PINK, 20, 20000, 0.5, 48000, 3);
        double[] l2 = {150, 1500}, l3 = {150, 470, 2200};
        Set<String> w = new HashSet<>(Arrays.asList(a));
        if (w.isEmpty() || w.contains("plain")) {
            one("plain sweep", "sweep", gap(sw, 0, 1, 0, 0), l3, new Performance(0.6, 1, 6, 0));
            one("plain noise", "noise", no, l3, new Performance(0.6, 1, 7.6, 0));
        }
        if (w.isEmpty() || w.contains("rep")) {
            one("2 sweeps", "sweep", gap(sw, 1, 2, 1, 1), l3, new Performance(0.3, 1, 13, 0));
            one("2 sweeps two loads", "sweep", gap(sw, 1, 2, 1, 1), l2, new Performance(0.3, 1, 13, 0));
            one("2 noises", "noise", gap(no, 0.5, 2, 0, 0.5), l3, new Performance(0.3, 1, 14, 0));
        }
        if (w.isEmpty() || w.contains("loop")) {
            one(
                    "loop sweep mid",
                    "sweep",
                    gap(sw, 0, 1, 0, 1),
                    l3,
                    new Performance(-7.3, 9, 10, 0),
                    new Performance(-4.3, 9, 10, 0),
                    new Performance(-9, 9, 9, 0));
            one(
                    "loop noise mid short",
                    "noise",
                    no,
                    l3,
                    new Performance(-7.3, 9, 7, 0),
                    new Performance(-4.3, 9, 7, 0),
                    new Performance(-9, 9, 9, 0));
            one(
                    "loop noise mixed",
                    "noise",
                    no,
                    l3,
                    new Performance(0.7, 9, 9.5, 0),
                    new Performance(-4.3, 2, 12, 0),
                    new Performance(0.5, 1, 8, 0));
            one(
                    "loop 2 sweeps file",
                    "sweep",
                    gap(sw, 1, 2, 1, 1),
                    l3,
                    new Performance(-7.3, 9, 20, 0),
                    new Performance(0.6, 9, 14, 0),
                    new Performance(0.6, 1, 13, 0));
        }
        if (w.isEmpty() || w.contains("skew")) {
            for (double[] l : new double[][] {l3, l2}) {
                one("50 ppm one sweep " + l.length, "sweep", sw6, l, new Performance(0.6, 1, 8, 50));
                one(
                        "50 51 49 one sweep " + l.length,
                        "sweep",
                        sw6,
                        l,
                        new Performance(0.6, 1, 8, 50),
                        new Performance(0.6, 1, 8, 51),
                        new Performance(0.6, 1, 8, 49));
                one("50 ppm noise " + l.length, "noise", no, l, new Performance(0.6, 1, 7.6, 50));
                one(
                        "50 51 49 noise " + l.length,
                        "noise",
                        no,
                        l,
                        new Performance(0.6, 1, 7.6, 50),
                        new Performance(0.6, 1, 7.6, 51),
                        new Performance(0.6, 1, 7.6, 49));
                one(
                        "50 51 49 2 sweeps " + l.length,
                        "sweep",
                        gap(sw, 1, 2, 1, 1),
                        l,
                        new Performance(0.6, 1, 13, 50),
                        new Performance(0.6, 1, 13, 51),
                        new Performance(0.6, 1, 13, 49));
                one(
                        "50 51 49 loop noise " + l.length,
                        "noise",
                        no,
                        l,
                        new Performance(-7, 9, 13, 50),
                        new Performance(-5, 9, 12, 51),
                        new Performance(-3.3, 9, 11, 49));
            }
        }
    }
}
