package ohmprint.app.measure;

import java.io.IOException;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import ohmprint.app.BadInputException;
import ohmprint.chart.ChartTheme;
import ohmprint.chart.ImpedanceChart;
import ohmprint.chart.LineChart;
import ohmprint.exchange.CurveFormat;
import ohmprint.exchange.CurveJson;
import ohmprint.files.Sha256;
import ohmprint.impedance.Measurement;
import org.jspecify.annotations.Nullable;

/** The files of a result, in the order in which they are documented. */
public final class ResultFiles {
    /** Holds the digests of the others: a reader who finds them to be so has met files of one measurement. */
    private static final String LAST = CurveFormat.JSON.file();

    private static final String SVG = "curve.svg";
    private static final String PNG = "curve.png";
    private static final String LINES = "lines.svg";

    private ResultFiles() {}

    /** What a result is written as, for a sentence. */
    public static String contents() {
        return CurveFormat.descriptions() + " and pictures";
    }

    /** Where they go; refuses a folder that holds other things, before any work is done. */
    static ResultFolder folder(Path folder) throws BadInputException, IOException {
        Set<String> names = new HashSet<>(List.of(SVG, PNG, LINES));
        for (CurveFormat format : CurveFormat.values()) {
            names.add(format.file());
        }
        return ResultFolder.at(folder, names, "a measurement");
    }

    /** Content by file name; pictures are drawn two at a time. */
    static Map<String, byte[]> of(Measurement measurement, LineChart.@Nullable Data lines) {
        ImpedanceChart chart = ImpedanceChart.of(measurement, ChartTheme.LIGHT);
        CompletableFuture<byte[]> png = CompletableFuture.supplyAsync(chart::png);
        CompletableFuture<String> linesSvg = lines == null
                ? null
                : CompletableFuture.supplyAsync(
                        () -> LineChart.of(lines, ChartTheme.LIGHT).svg());
        Map<String, byte[]> files = new LinkedHashMap<>();
        for (CurveFormat format : CurveFormat.values()) {
            if (format.file().equals(LAST)) {
                files.put(LAST, new byte[0]);
            } else if (format.canHold(measurement.curve())) {
                files.put(format.file(), ResultFolder.utf8(format.write(measurement)));
            }
        }
        files.put(SVG, ResultFolder.utf8(chart.svg()));
        files.put(PNG, png.join());
        if (linesSvg != null) {
            files.put(LINES, ResultFolder.utf8(linesSvg.join()));
        }
        Map<String, String> digests = new LinkedHashMap<>();
        files.forEach((name, content) -> {
            if (!name.equals(LAST)) {
                digests.put(name, Sha256.of(content));
            }
        });
        files.put(LAST, ResultFolder.utf8(CurveJson.write(measurement, digests)));
        return files;
    }

    /** The same files, with the one at the end that tells of the others. */
    static Map<String, byte[]> inWritingOrder(Map<String, byte[]> files) {
        Map<String, byte[]> ordered = new LinkedHashMap<>(files);
        byte[] last = ordered.remove(LAST);
        if (last != null) {
            ordered.put(LAST, last);
        }
        return ordered;
    }
}
