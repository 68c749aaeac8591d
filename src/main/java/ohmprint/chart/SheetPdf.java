package ohmprint.chart;

import com.openhtmltopdf.extend.FSObjectDrawer;
import com.openhtmltopdf.extend.FSObjectDrawerFactory;
import com.openhtmltopdf.extend.OutputDevice;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.outputdevice.helper.ExternalResourceControlPriority;
import com.openhtmltopdf.pdfboxout.PDFontSupplier;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.render.RenderingContext;
import com.openhtmltopdf.util.XRLog;
import de.rototor.pdfbox.graphics2d.PdfBoxGraphics2D;
import de.rototor.pdfbox.graphics2d.PdfBoxGraphics2DFontTextDrawer;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.time.Instant;
import java.util.Arrays;
import java.util.Calendar;
import java.util.GregorianCalendar;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TimeZone;
import java.util.logging.Level;
import java.util.logging.Logger;
import org.apache.fontbox.ttf.TTFParser;
import org.apache.fontbox.ttf.TrueTypeFont;
import org.apache.pdfbox.io.RandomAccessReadBuffer;
import org.apache.pdfbox.pdfwriter.compress.CompressParameters;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDDocumentInformation;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.pdmodel.font.PDType0Font;
import org.jspecify.annotations.Nullable;
import org.w3c.dom.Element;

/**
 * A sheet as a PDF file: tagged, titled, numbered pages, fonts embedded, text of the charts searchable. The same sheet and
 * time give the same bytes.
 */
public final class SheetPdf {
    private static final String FAMILY = "DejaVu Sans";
    private static final int PLAIN = 400;
    private static final int BOLD = 700;
    /** Held, because loggers that nobody holds forget their level. */
    private static final List<Logger> TALKATIVE = List.of(
            Logger.getLogger("org.apache.pdfbox"),
            Logger.getLogger("com.openhtmltopdf"),
            Logger.getLogger("org.apache.fontbox"));

    private SheetPdf() {}

    /** Sizes of the pages. Source: ISO 216 and ANSI/ASME Y14.1, recalled from memory. */
    public enum Paper {
        /** 210 mm × 297 mm. */
        A4,
        /** 8.5 in × 11 in. */
        LETTER;

        /** The word for it. */
        public String word() {
            return name().toLowerCase(Locale.ROOT);
        }

        /** All words. */
        public static List<String> words() {
            return Arrays.stream(values()).map(Paper::word).toList();
        }

        /** The size with that word. */
        public static Optional<Paper> of(String word) {
            return Arrays.stream(values()).filter(p -> p.word().equals(word)).findFirst();
        }

        String css() {
            return this == A4 ? "A4" : "letter";
        }
    }

    /**
     * The bytes of the file.
     *
     * @param sheet what it shows
     * @param paper size of the pages
     * @param time the time that the file states as that of its making
     * @throws IOException if the bundled fonts cannot be read
     */
    public static byte[] of(Sheet sheet, Paper paper, Instant time) throws IOException {
        TALKATIVE.forEach(logger -> logger.setLevel(Level.OFF));
        XRLog.setLoggingEnabled(false);
        List<Chart> charts = sheet.sections().stream()
                .flatMap(section -> section.blocks().stream())
                .filter(Sheet.Drawing.class::isInstance)
                .map(block -> ((Sheet.Drawing) block).light())
                .toList();
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(1 << 18);
        try (PDDocument document = new PDDocument()) {
            document.setDocumentId(time.toEpochMilli());
            PdfRendererBuilder builder = new PdfRendererBuilder();
            builder.usePDDocument(document);
            builder.usePdfUaAccessibility(true);
            builder.withProducer("ohmprint");
            PDFont plain = embedded(document, "DejaVuSans.ttf");
            builder.useFont(new PDFontSupplier(plain), FAMILY, PLAIN, FontStyle.NORMAL, true);
            builder.useFont(
                    new PDFontSupplier(embedded(document, "DejaVuSans-Bold.ttf")),
                    FAMILY,
                    BOLD,
                    FontStyle.NORMAL,
                    true);
            builder.useObjectDrawerFactory(new ChartPlaces(charts, plain));
            for (ExternalResourceControlPriority when : ExternalResourceControlPriority.values()) {
                builder.useExternalResourceAccessControl((uri, type) -> uri.startsWith("data:"), when);
            }
            builder.withHtmlContent(SheetHtml.forPages(sheet, paper.css()), null);
            try (var renderer = builder.buildPdfRenderer()) {
                renderer.createPDFKeepOpen();
                stamp(document, sheet.title(), time);
                document.save(bytes, CompressParameters.NO_COMPRESSION);
            }
        }
        return bytes.toByteArray();
    }

    private static void stamp(PDDocument document, String title, Instant time) {
        PDDocumentInformation information = document.getDocumentInformation();
        Calendar calendar = new GregorianCalendar(TimeZone.getTimeZone("UTC"), Locale.ROOT);
        calendar.setTimeInMillis(time.toEpochMilli());
        information.setTitle(title);
        information.setCreationDate(calendar);
        information.setModificationDate(calendar);
    }

    /** Without ligatures, which a search for the word would miss. */
    private static PDFont embedded(PDDocument document, String name) throws IOException {
        try (InputStream in = TextPainter.bundled(name)) {
            TrueTypeFont font = new TTFParser().parse(new RandomAccessReadBuffer(in));
            font.setEnableGsub(false);
            return PDType0Font.load(document, font, true);
        }
    }

    /** Fills the places of charts on the pages of a PDF file with drawings whose text can be searched. */
    private static final class ChartPlaces implements FSObjectDrawerFactory, FSObjectDrawer {
        private final List<Chart> charts;
        private final PdfBoxGraphics2DFontTextDrawer letters;

        ChartPlaces(List<Chart> charts, PDFont font) {
            this.charts = charts;
            this.letters = new OneFont(font);
        }

        @Override
        public FSObjectDrawer createDrawer(Element place) {
            return this;
        }

        @Override
        public boolean isReplacedObject(Element place) {
            return place.getAttribute("type").equals(SheetHtml.CHART_TYPE);
        }

        @Override
        public @Nullable Map<Shape, String> drawObject(
                Element place,
                double x,
                double y,
                double width,
                double height,
                OutputDevice device,
                RenderingContext context,
                int dotsPerPixel) {
            Chart chart = charts.get(Integer.parseInt(place.getAttribute("data")));
            float w = (float) (width / dotsPerPixel);
            float h = (float) (height / dotsPerPixel);
            device.drawWithGraphics((float) x, (float) y, w, h, g -> {
                if (g instanceof PdfBoxGraphics2D pdf) {
                    pdf.setFontTextDrawer(letters);
                }
                draw(chart, g, w, h);
            });
            return null;
        }

        private static void draw(Chart chart, Graphics2D g, double width, double height) {
            double scale = Math.min(width / chart.width(), height / chart.height());
            g.scale(scale, scale);
            chart.draw(g);
        }

        /** All text of charts is of one bundled font. */
        private static final class OneFont extends PdfBoxGraphics2DFontTextDrawer {
            private final PDFont font;

            OneFont(PDFont font) {
                this.font = font;
            }

            @Override
            protected PDFont mapFont(Font asked, IFontTextDrawerEnv env) {
                return font;
            }
        }
    }
}
