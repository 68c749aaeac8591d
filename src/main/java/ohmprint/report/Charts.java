package ohmprint.report;

import java.time.Instant;
import java.util.List;
import ohmprint.curve.BandBudget;
import ohmprint.curve.BandValue;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;
import ohmprint.curve.Microphone;
import ohmprint.curve.PlaneCovariance;
import ohmprint.curve.Provenance;
import ohmprint.curve.Route;
import ohmprint.curve.Usability;

/** Loading of what pictures need, ahead of the first picture. */
public final class Charts {
    private Charts() {}

    /**
     * Starts loading font, drawing and chart classes on a thread of its own and returns at once. A program that has other
     * work to do before its first picture calls this first; the picture itself then takes a fraction of the time. The
     * thread is a daemon: it does not keep the program alive. Calling it again, or not at all, does no harm.
     */
    public static Thread warmUp() {
        Thread thread = new Thread(Charts::drawOnce, "charts-warm-up");
        thread.setDaemon(true);
        thread.start();
        return thread;
    }

    /** Draws a curve of two bands and one straight line, and throws them away. */
    private static void drawOnce() {
        FrequencyBands bands = FrequencyBands.within(1, 900, 2100);
        List<BandValue> values = List.of(value(bands.midband(0)), value(bands.midband(1)));
        Measurement measurement = new Measurement(
                new Microphone("", null, null, null, null, null, null, null),
                new ImpedanceCurve(bands, values, false),
                Route.STIMULUS,
                "",
                Usability.USABLE,
                List.of(),
                new Provenance("", Instant.EPOCH, "", List.of(), null));
        ImpedanceChart chart = ImpedanceChart.of(measurement, ChartTheme.LIGHT);
        chart.svg();
        Picture.image(chart::draw);
        LinePlotData.Point point = new LinePlotData.Point("", 1, 1, 0, 0.1, false);
        LinePlotData lines = new LinePlotData("", List.of(new LinePlotData.Band(1000, 200, 50, List.of(point))));
        LineChart.of(lines, ChartTheme.LIGHT).svg();
    }

    private static BandValue value(double hz) {
        return BandValue.complex(hz, 200, 50, PlaneCovariance.circular(1), 2, 0.01, 40, new BandBudget(1, 0, 0, 0, 0));
    }
}
