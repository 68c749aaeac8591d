package ohmprint.report;

import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.BandStatus;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;
import ohmprint.spec.Specification;
import ohmprint.spec.Verdict;
import org.jspecify.annotations.Nullable;

/** |Z| and phase of one measurement over frequency, with its 95 % band, and the findings in words beside them. */
public final class ImpedanceChart implements WholePicture {
    private static final Rectangle2D PLOTS = new Rectangle2D.Double(14, 78, 846, 594);
    private static final Rectangle2D PANEL = new Rectangle2D.Double(880, 78, Picture.WIDTH - 880 - Picture.MARGIN, 656);
    private static final double KEY_Y = 692;
    private static final double CAPTION_Y = 714;
    private static final double INDENT = Picture.MARGIN + 48;

    private final Measurement measurement;
    private final ImpedanceCurve curve;
    private final ChartTheme theme;
    private final @Nullable SpecificationOverlay overlay;
    private final ImpedancePlots plots;
    private final ImpedanceKey key;

    private ImpedanceChart(Measurement measurement, ChartTheme theme, @Nullable SpecificationOverlay overlay) {
        this.measurement = measurement;
        this.curve = measurement.curve();
        this.theme = theme;
        this.overlay = overlay;
        this.plots = new ImpedancePlots(curve, theme, overlay);
        this.key = new ImpedanceKey(curve, theme, overlay);
    }

    /** The picture of a measurement; nothing is drawn yet. */
    public static ImpedanceChart of(Measurement measurement, ChartTheme theme) {
        return new ImpedanceChart(measurement, theme, null);
    }

    /** The picture of a measurement with the limits of a specification and the verdict on it; nothing is drawn yet. */
    public static ImpedanceChart checked(
            Measurement measurement, Specification specification, Verdict verdict, ChartTheme theme) {
        return new ImpedanceChart(measurement, theme, new SpecificationOverlay(specification, verdict, theme));
    }

    /** The plots and their key alone, smaller, for a page that says the rest in its own words. */
    public Chart forPage() {
        return new OnPage();
    }

    /** The plots and their key on a page. */
    private final class OnPage implements Chart {
        private static final int PAGE_WIDTH = 760;
        private static final int WITH_PHASE = 440;
        private static final int WITHOUT_PHASE = 320;
        private static final int KEY_ROOM = 34;
        /** Half of the last label of the axis. */
        private static final int RIGHT = 12;

        @Override
        public int width() {
            return PAGE_WIDTH;
        }

        @Override
        public int height() {
            return plots.withPhase() ? WITH_PHASE : WITHOUT_PHASE;
        }

        @Override
        public String title() {
            return ImpedanceChart.this.title();
        }

        @Override
        public void draw(Graphics2D g) {
            g.setColor(theme.ground());
            g.fill(new Rectangle2D.Double(0, 0, width(), height()));
            plots.draw(g, new Rectangle2D.Double(0, 0, width() - RIGHT, height() - KEY_ROOM));
            key.draw(g, plots.withPhase(), 60, height() - 12);
        }
    }

    @Override
    public String title() {
        return TextFit.oneLine(
                measurement.microphone().label() + ": " + curve.quantity(), Lettering.SUBTITLE, Picture.WIDTH);
    }

    @Override
    public void draw(Graphics2D g) {
        g.setColor(theme.ground());
        g.fill(new Rectangle2D.Double(0, 0, Picture.WIDTH, Picture.HEIGHT));
        Lettering.heading(g, theme, measurement.microphone().label(), subtitle());
        plots.draw(g, PLOTS);
        key.draw(g, plots.withPhase(), INDENT, KEY_Y);
        caption(g);
        new FindingsPanel(measurement, theme, overlay).draw(g, PANEL);
    }

    private String subtitle() {
        String quantity = curve.quantity();
        int fraction = curve.bands().fraction();
        String grid = fraction == 1 ? "octave bands" : "1/" + fraction + "-octave bands";
        return Character.toUpperCase(quantity.charAt(0)) + quantity.substring(1) + ", " + grid;
    }

    private void caption(Graphics2D g) {
        List<String> sentences = new ArrayList<>();
        if (curve.count(BandStatus.MEASURED) > 0) {
            sentences.add(
                    "Parts of the error are common to all bands, so the curve may shift as a whole within the 95 % band.");
        }
        if (!plots.withPhase()) {
            sentences.add(
                    curve.count(BandStatus.MEASURED) > 0
                            ? "No phase: these takes do not determine the sign of the reactance."
                            : "No phase: no band has a value.");
        }
        if (curve.count(BandStatus.REJECTED) > 0) {
            sentences.add("Gaps are rejected bands, about which the takes say nothing.");
        }
        if (curve.values().stream().anyMatch(v -> Double.isInfinite(v.magnitudeHighOhm()))) {
            sentences.add("Bounds that meet the frame are open there.");
        }
        List<String> lines = TextFit.wrap(String.join(" ", sentences), Lettering.SMALL, PLOTS.getMaxX() - INDENT, 3);
        Lettering.lines(g, theme.mutedInk(), lines, INDENT, CAPTION_Y);
    }
}
