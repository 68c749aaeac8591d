package ohmprint.report;

import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.outputdevice.helper.ExternalResourceControlPriority;
import com.openhtmltopdf.pdfboxout.PDFontSupplier;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.util.XRLog;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.time.Instant;
import java.util.Calendar;
import java.util.GregorianCalendar;
import java.util.List;
import java.util.Locale;
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
            builder.withHtmlContent(SheetHtml.render(sheet, SheetText.pages(sheet, paper.css())), null);
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
        try (InputStream in = SheetPdf.class.getResourceAsStream(name)) {
            if (in == null) {
                throw new IllegalStateException("the bundled file " + name + " is missing; install the program again");
            }
            TrueTypeFont font = new TTFParser().parse(new RandomAccessReadBuffer(in));
            font.setEnableGsub(false);
            return PDType0Font.load(document, font, true);
        }
    }
}
