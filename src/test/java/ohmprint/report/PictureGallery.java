package ohmprint.report;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import ohmprint.curve.Measurement;
import ohmprint.curve.SampleMeasurements;

/** The pictures that the tests look at; run it with a folder to look at them oneself. */
final class PictureGallery {
    static final String LONG_LABEL = "Rehearsal room 2, left overhead, repaired twice (Ω, 20 °C) #7";

    private PictureGallery() {}

    public static void main(String[] args) throws Exception {
        Path folder = Files.createDirectories(Path.of(args[0]));
        for (Map.Entry<String, Measurement> e : measurements().entrySet()) {
            for (ChartTheme theme : ChartTheme.values()) {
                ImpedanceChart chart = ImpedanceChart.of(e.getValue(), theme);
                String name = e.getKey() + "-" + theme.name().toLowerCase(Locale.ROOT);
                Files.writeString(folder.resolve(name + ".svg"), chart.svg());
                Files.write(folder.resolve(name + ".png"), chart.png());
            }
        }
        for (int n = 1; n <= 6; n++) {
            LineChart chart = LineChart.of(lines(n), n % 2 == 0 ? ChartTheme.LIGHT : ChartTheme.DARK);
            Files.writeString(folder.resolve("lines-" + n + ".svg"), chart.svg());
            Files.write(folder.resolve("lines-" + n + ".png"), chart.png());
        }
    }

    static Map<String, Measurement> measurements() {
        Map<String, Measurement> all = new LinkedHashMap<>();
        all.put("moving-coil", SampleMeasurements.movingCoil());
        all.put("third-octaves", SampleMeasurements.thirdOctaves());
        all.put("ribbon-gaps", SampleMeasurements.ribbonWithGaps());
        all.put("intervals", SampleMeasurements.intervalsOnly());
        all.put("magnitudes", SampleMeasurements.magnitudesOnly());
        all.put("wide", SampleMeasurements.wideRange());
        all.put("long-label", SampleMeasurements.labelled(LONG_LABEL));
        all.put("twelve-findings", SampleMeasurements.withFindings(12));
        return all;
    }

    /** Three loads, the first recorded twice; in the last band a fourth take does not fit. */
    static LinePlotData lines(int count) {
        double[] hz = {50.1, 158.5, 501, 1585, 5012, 15849};
        List<LinePlotData.Band> bands = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            double r = 200 + 20 * i;
            double x = i == 0 ? -8.71 : 3 * i * i * i;
            List<LinePlotData.Point> points = new ArrayList<>();
            double[] ohms = {Double.POSITIVE_INFINITY, 1500, 330, 150, 150};
            for (int k = 0; k < ohms.length; k++) {
                double y = 1000 / ohms[k] + 0.3333;
                boolean off = i == count - 1 && k == 2;
                double wrong = off ? 0.85 : 1 + 0.002 * (k % 2);
                String load = k == 0 ? "open" : Ticks.plain(ohms[k]) + " Ω";
                points.add(new LinePlotData.Point(
                        load, y, (1 + r * y / 1000) * wrong, x * y / 1000 * wrong, 0.01 + 0.02 * i, off));
            }
            bands.add(new LinePlotData.Band(hz[i], r, x, points));
        }
        return new LinePlotData("Bench ribbon 7", bands);
    }
}
