package ohmprint.chart;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.LoadedCurve;
import ohmprint.circuit.SourceCurve;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.SampleMeasurements;

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
        for (Map.Entry<String, LoadingChart.Data> e : loads().entrySet()) {
            for (ChartTheme theme : ChartTheme.values()) {
                LoadingChart chart = LoadingChart.of(e.getValue(), theme);
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

    /** Pictures of loads by name: a family, many inputs, gaps, bounds, one input without 1 kHz. */
    static Map<String, LoadingChart.Data> loads() {
        Map<String, LoadingChart.Data> all = new LinkedHashMap<>();
        ImpedanceCurve coil = SampleMeasurements.movingCoil().curve();
        all.put("loads-family", loads(coil, true, 150, 300, 600, 1200, 2400, 5000, 10_000, 20_000, 40_000));
        all.put("loads-inputs", loads(coil, false, 600, 1500, 1510, 2400, 3000, 5000, 10_000));
        all.put("loads-gaps", loads(SampleMeasurements.ribbonWithGaps().curve(), false, 600, 1500, 3000));
        all.put("loads-bounds", loads(SampleMeasurements.intervalsOnly().curve(), false, 600, 3000));
        all.put("loads-thirds", loads(SampleMeasurements.thirdOctaves().curve(), false, 1500));
        all.put("loads-high", loads(SampleMeasurements.movingCoilCurve(12, 2000, 18_000), true, 300, 3000));
        return all;
    }

    private static LoadingChart.Data loads(ImpedanceCurve curve, boolean ordered, double... ohms) {
        SourceCurve source = SourceCurve.of(curve, 20, 20_000);
        List<LoadingChart.Line> lines = new ArrayList<>();
        for (double ohm : ohms) {
            LoadedCurve loaded = LoadedCurve.of(source, InputImpedance.ofOhms(ohm, ordered ? 0 : 5));
            String name = ordered ? Ticks.engineering(ohm) + "Ω" : "Rehearsal desk, channel " + Ticks.plain(ohm);
            lines.add(
                    new LoadingChart.Line(name, "worst loss 1.58 dB, tilt 0.54 dB", loaded.losses(), loaded.changes()));
        }
        List<LoadingChart.Fact> facts = List.of(
                new LoadingChart.Fact("Ten times the greatest impedance", "2.99 kΩ, at 145 Hz"),
                new LoadingChart.Fact(
                        "Least load",
                        "for a loss of 1\u00A0dB: 2.45\u00A0kΩ; for a tilt of 0.5\u00A0dB: none is enough"),
                new LoadingChart.Fact("Measured", "20.5 Hz to 19.4 kHz; nothing is claimed outside"));
        return new LoadingChart.Data(
                LONG_LABEL,
                "What loads leave",
                curve.bands(),
                ordered,
                lines,
                facts,
                "Shaded: 95 %. Boxes are bounds.");
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
    static LineChart.Data lines(int count) {
        double[] hz = {50.1, 158.5, 501, 1585, 5012, 15849};
        List<LineChart.Band> bands = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            double r = 200 + 20 * i;
            double x = i == 0 ? -8.71 : 3 * i * i * i;
            List<LineChart.Point> points = new ArrayList<>();
            double[] ohms = {Double.POSITIVE_INFINITY, 1500, 330, 150, 150};
            for (int k = 0; k < ohms.length; k++) {
                double y = 1000 / ohms[k] + 0.3333;
                boolean off = i == count - 1 && k == 2;
                double wrong = off ? 0.85 : 1 + 0.002 * (k % 2);
                String load = k == 0 ? "open" : Ticks.plain(ohms[k]) + " Ω";
                points.add(new LineChart.Point(
                        load, y, (1 + r * y / 1000) * wrong, x * y / 1000 * wrong, 0.01 + 0.02 * i, off));
            }
            bands.add(new LineChart.Band(hz[i], r, x, points));
        }
        return new LineChart.Data("Bench ribbon 7", bands);
    }
}
