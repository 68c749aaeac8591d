package ohmprint.app;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import ohmprint.curve.Measurement;
import ohmprint.exchange.CurveCsv;
import ohmprint.exchange.CurveJson;
import ohmprint.exchange.Touchstone;
import ohmprint.report.ChartTheme;
import ohmprint.report.ImpedanceChart;
import ohmprint.report.LineChart;
import ohmprint.report.LinePlotData;
import org.jspecify.annotations.Nullable;

/** The files of a result, in the order in which they are documented. */
final class ResultFiles {
    private ResultFiles() {}

    /** Content by file name; pictures are drawn two at a time. */
    static Map<String, byte[]> of(Measurement measurement, @Nullable LinePlotData lines) {
        ImpedanceChart chart = ImpedanceChart.of(measurement, ChartTheme.LIGHT);
        CompletableFuture<byte[]> png = CompletableFuture.supplyAsync(chart::png);
        CompletableFuture<String> linesSvg = lines == null
                ? null
                : CompletableFuture.supplyAsync(
                        () -> LineChart.of(lines, ChartTheme.LIGHT).svg());
        Map<String, byte[]> files = new LinkedHashMap<>();
        files.put("curve.csv", ResultFolder.utf8(CurveCsv.write(measurement.curve())));
        files.put("curve.json", ResultFolder.utf8(CurveJson.write(measurement)));
        if (Touchstone.canHold(measurement.curve())) {
            files.put("curve.s1p", ResultFolder.utf8(Touchstone.write(measurement)));
        }
        files.put("curve.svg", ResultFolder.utf8(chart.svg()));
        files.put("curve.png", png.join());
        if (linesSvg != null) {
            files.put("lines.svg", ResultFolder.utf8(linesSvg.join()));
        }
        return files;
    }
}
