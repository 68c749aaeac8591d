package ohmprint.app.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.awt.image.BufferedImage;
import java.awt.image.IndexColorModel;
import java.io.ByteArrayOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.zip.CRC32;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;
import javax.imageio.ImageIO;
import javax.xml.parsers.DocumentBuilderFactory;
import ohmprint.NeedsPackage;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.app.report.HandOverRequest.Form;
import ohmprint.chart.SheetPdf.Paper;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Microphone;
import ohmprint.impedance.SampleMeasurements;
import ohmprint.impedance.Usability;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.Node;

/** Sheets as they are handed over: what they say, and what the files are like. */
@Tag("slow")
class HandOverTest {
    private static final Instant TIME = Instant.parse("2026-11-25T10:00:00Z");
    private static final Pattern NUMBER = Pattern.compile("[0-9]+(\\.[0-9]+)?");

    @TempDir
    Path here;

    private Path curve(Measurement measurement) throws IOException {
        return Files.writeString(here.resolve("curve.json"), CurveJson.write(measurement));
    }

    private HandOverRequest request(Path subject, String out, Paper paper) {
        Form form = out.endsWith("html") ? Form.HTML : Form.PDF;
        return new HandOverRequest(
                subject.toString(),
                null,
                null,
                null,
                HandOverRequest.sound(1.2, null),
                here.resolve(out),
                form,
                paper,
                TIME);
    }

    private HandOverOutcome run(HandOverRequest request) throws BadInputException, IOException {
        return HandOver.run(request, Progress.SILENT);
    }

    private static String text(Path pdf) throws IOException {
        try (PDDocument document = Loader.loadPDF(pdf.toFile())) {
            return new PDFTextStripper().getText(document);
        }
    }

    private static Document parsed(Path html) throws Exception {
        DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
        factory.setNamespaceAware(true);
        return factory.newDocumentBuilder().parse(html.toFile());
    }

    /** The text of a page without that of its charts and its style. */
    private static String words(Node node) {
        if (node instanceof Element e && List.of("svg", "style").contains(e.getLocalName())) {
            return "";
        }
        if (node.getNodeType() == Node.TEXT_NODE) {
            return node.getTextContent();
        }
        return IntStream.range(0, node.getChildNodes().getLength())
                .mapToObj(i -> words(node.getChildNodes().item(i)))
                .collect(Collectors.joining(" "));
    }

    @ParameterizedTest
    @CsvSource({"A4, 595, 842", "LETTER, 612, 792"})
    void everyNumberOfTheHtmlPageStandsInThePdfToo(Paper paper, int width, int height) throws Exception {
        Path curve = curve(SampleMeasurements.movingCoil());
        run(request(curve, "sheet.html", paper));
        run(request(curve, "sheet.pdf", paper));
        String pdf = text(here.resolve("sheet.pdf"));
        List<String> numbers = NUMBER.matcher(words(parsed(here.resolve("sheet.html"))))
                .results()
                .map(m -> m.group())
                .distinct()
                .toList();
        assertThat(numbers)
                .hasSizeGreaterThan(60)
                .allSatisfy(number -> assertThat(pdf).contains(number));
        assertThat(pdf).contains("Frequency in Hz", "page 1 of ");
        try (PDDocument document = Loader.loadPDF(here.resolve("sheet.pdf").toFile())) {
            assertThat(document.getPage(0).getMediaBox().getWidth()).isBetween(width - 1f, width + 1f);
            assertThat(document.getPage(0).getMediaBox().getHeight()).isBetween(height - 1f, height + 1f);
            assertThat(document.getDocumentCatalog().getMarkInfo().isMarked()).isTrue();
            assertThat(document.getDocumentCatalog().getStructureTreeRoot()).isNotNull();
            assertThat(document.getDocumentInformation().getTitle()).isEqualTo("Bench dynamic 2");
        }
    }

    @Test
    void thePageNeedsNothingElse() throws Exception {
        run(request(curve(SampleMeasurements.movingCoil()), "sheet.html", Paper.A4));
        String html = Files.readString(here.resolve("sheet.html"));
        assertThat(html.replace("http://www.w3.org/", ""))
                .doesNotContain("http:", "https:", "<script", "url(\"", "url(h");
        assertThat(html).contains("prefers-color-scheme: dark", "lang=\"en\"", "role=\"img\"");
    }

    /** JCGM 100:2008, 7.2.3 d and 7.2.4: the coverage factor is stated beside U and u; U = k·u, both with two digits here. */
    @Test
    void theCoverageFactorIsStatedBesideEachUncertainty() throws Exception {
        run(request(curve(SampleMeasurements.movingCoil()), "sheet.html", Paper.A4));
        var rows = parsed(here.resolve("sheet.html")).getElementsByTagNameNS("*", "tr");
        List<List<String>> cells = IntStream.range(0, rows.getLength())
                .mapToObj(i -> ((Element) rows.item(i)).getChildNodes())
                .map(row -> IntStream.range(0, row.getLength())
                        .mapToObj(row::item)
                        .filter(Element.class::isInstance)
                        .map(cell -> cell.getTextContent().strip())
                        .toList())
                .dropWhile(row -> !row.contains("together"))
                .takeWhile(row -> row.size() == 9)
                .toList();
        assertThat(cells).hasSizeGreaterThan(3);
        assertThat(cells.get(0)).endsWith("together", "k");
        assertThat(cells.subList(1, cells.size())).allSatisfy(row -> {
            double expanded = Double.parseDouble(row.get(1).split("±")[1].strip());
            double standard = Double.parseDouble(row.get(7));
            assertThat(Double.parseDouble(row.get(8)) * standard / expanded).isBetween(0.9, 1.1);
        });
    }

    @Test
    void theSameInputAtTheSameTimeGivesTheSameBytes() throws Exception {
        Path curve = curve(SampleMeasurements.movingCoil());
        for (String end : List.of("html", "pdf")) {
            run(request(curve, "one." + end, Paper.A4));
            run(request(curve, "two." + end, Paper.A4));
            assertThat(here.resolve("one." + end)).hasSameBinaryContentAs(here.resolve("two." + end));
        }
    }

    @Test
    void anUnusableMeasurementSaysSoAboveAllElseAndGivesNoAdvice() throws Exception {
        Measurement sound = SampleMeasurements.movingCoil();
        List<Finding> many = new ArrayList<>();
        for (int i = 1; i <= 12; i++) {
            many.add(new Finding(
                    FindingCode.CLIPPED,
                    "take-" + i + ".wav",
                    "has flat tops for 41 ms at half of full scale; lower the level by 6 dB and record it again"));
        }
        Microphone odd = new Microphone(
                "Bench dynamic 2",
                "Fen Bench Works",
                "FB-" + "7".repeat(30),
                "0".repeat(90) + "42",
                "moving-coil",
                null,
                null,
                null);
        Measurement unusable = new Measurement(
                odd, sound.curve(), sound.route(), sound.routeReason(), Usability.UNUSABLE, many, sound.provenance());
        HandOverOutcome outcome = run(request(curve(unusable), "sheet.pdf", Paper.A4));
        String text = text(outcome.file());
        assertThat(text.indexOf("Not to be relied on")).isPositive().isLessThan(text.indexOf("Result"));
        assertThat(text).contains("take-12.wav").doesNotContain("Which input suits it", "The takes agree");
        assertThat(outcome.sections()).doesNotContain("Electrical circuit");
    }

    @Tag("process")
    @Test
    @NeedsPackage({"qpdf", "poppler-utils"})
    void otherProgramsFindThePdfSoundAndItsFontsEmbedded() throws Exception {
        run(request(curve(SampleMeasurements.movingCoil()), "sheet.pdf", Paper.A4));
        String file = here.resolve("sheet.pdf").toString();
        // Source: qpdf, a PDF checker of another origin; poppler's pdffonts and pdftotext likewise.
        assertThat(output("qpdf", "--check", file)).contains("No syntax or stream encoding errors");
        List<String> fonts = output("pdffonts", file).lines().skip(2).toList();
        assertThat(fonts).isNotEmpty().allMatch(line -> line.contains(" yes yes yes "));
        assertThat(output("pdfinfo", file)).containsPattern("Tagged: +yes").containsPattern("Title: +Bench dynamic 2");
        assertThat(output("pdftotext", file, "-")).contains("Ten times the highest |Z|", "10k", "∠Z in °");
    }

    private static String output(String... command) throws IOException, InterruptedException {
        Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
        String text = new String(process.getInputStream().readAllBytes(), java.nio.charset.StandardCharsets.UTF_8);
        assertThat(process.waitFor()).as(text).isZero();
        return text;
    }

    @Test
    void aSessionIsMeasuredFirst() throws Exception {
        Path session = Files.createDirectory(here.resolve("session"));
        try (var files = Files.list(Path.of("fixtures/sessions/ribbon-repaired"))) {
            for (Path file : files.toList()) {
                Files.copy(file, session.resolve(file.getFileName()));
            }
        }
        HandOverOutcome outcome = run(request(session, "sheet.pdf", Paper.A4));
        assertThat(session.resolve("result/curve.json")).isNotEmptyFile();
        assertThat(text(outcome.file())).contains("Bench ribbon 9", "take-1.wav", "Electrical circuit");
    }

    @Test
    void aLogoOfFewColoursKeepsThem() throws Exception {
        BufferedImage blue = new BufferedImage(
                30,
                10,
                BufferedImage.TYPE_BYTE_BINARY,
                new IndexColorModel(1, 1, new byte[] {0}, new byte[] {0x72}, new byte[] {(byte) 0xB2}));
        ImageIO.write(blue, "png", here.resolve("logo.png").toFile());
        Path workshop = Files.writeString(here.resolve("workshop.yaml"), "version: 1\nname: Lark\nlogo: logo.png\n");
        HandOverRequest plain = request(curve(SampleMeasurements.movingCoil()), "sheet.pdf", Paper.A4);
        run(new HandOverRequest(
                plain.subject(), null, null, workshop, null, plain.out(), plain.form(), plain.paper(), TIME));
        try (PDDocument document = Loader.loadPDF(plain.out().toFile())) {
            BufferedImage page = new PDFRenderer(document).renderImageWithDPI(0, 36);
            long coloured = IntStream.range(0, page.getWidth() * page.getHeight() / 6)
                    .map(i -> page.getRGB(i % page.getWidth(), i / page.getWidth()) & 0xFFFFFF)
                    .filter(c -> c == 0x0072B2)
                    .count();
            assertThat(coloured).isGreaterThan(20);
        }
    }

    /** 109 kB that unpack to 900 million pixels. Source of the layout: the PNG specification, ISO/IEC 15948 (from memory). */
    @Test
    void aLogoOfTooManyPixelsIsRefusedByItsHeader() throws Exception {
        int side = 30_000;
        try (OutputStream file = Files.newOutputStream(here.resolve("logo.png"));
                DataOutputStream png = new DataOutputStream(file)) {
            png.writeLong(0x89504E470D0A1A0AL);
            chunk(
                    png,
                    "IHDR",
                    ByteBuffer.allocate(13)
                            .putInt(side)
                            .putInt(side)
                            .put((byte) 1)
                            .array());
            ByteArrayOutputStream rows = new ByteArrayOutputStream();
            try (DeflaterOutputStream packed = new DeflaterOutputStream(rows, new Deflater(9))) {
                for (int y = 0; y < side; y++) {
                    packed.write(new byte[1 + (side + 7) / 8]);
                }
            }
            chunk(png, "IDAT", rows.toByteArray());
            chunk(png, "IEND", new byte[0]);
        }
        assertThat(here.resolve("logo.png")).isNotEmptyFile();
        Path workshop = Files.writeString(here.resolve("workshop.yaml"), "version: 1\nname: Lark\nlogo: logo.png\n");
        HandOverRequest plain = request(curve(SampleMeasurements.movingCoil()), "sheet.html", Paper.A4);
        assertThatThrownBy(() -> run(new HandOverRequest(
                        plain.subject(), null, null, workshop, null, plain.out(), plain.form(), plain.paper(), TIME)))
                .isInstanceOf(BadInputException.class)
                .hasMessageContainingAll("logo.png", "30000 × 30000 pixels", "4000000", "make it smaller");
        assertThat(plain.out()).doesNotExist();
    }

    private static void chunk(DataOutputStream png, String kind, byte[] body) throws IOException {
        byte[] named = kind.getBytes(StandardCharsets.US_ASCII);
        CRC32 sum = new CRC32();
        sum.update(named);
        sum.update(body);
        png.writeInt(body.length);
        png.write(named);
        png.write(body);
        png.writeInt((int) sum.getValue());
    }

    @Test
    void whatCannotBeUsedIsNamedAndNothingIsWritten() throws Exception {
        Path curve = curve(SampleMeasurements.movingCoil());
        Path workshop = Files.writeString(here.resolve("workshop.yaml"), "version: 1\nnmae: Lark & Fen\n");
        HandOverRequest sound = request(curve, "sheet.pdf", Paper.A4);
        HandOverRequest misspelt = new HandOverRequest(
                sound.subject(), null, null, workshop, null, sound.out(), sound.form(), sound.paper(), TIME);
        assertThatThrownBy(() -> run(misspelt))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("nmae")
                .hasMessageContaining(":2:");
        assertThatThrownBy(() -> run(request(here.resolve("no such curve"), "sheet.pdf", Paper.A4)))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("no such curve");
        assertThatThrownBy(() -> run(request(curve, "nowhere/sheet.pdf", Paper.A4)))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("nowhere");
        assertThat(here.resolve("sheet.pdf")).doesNotExist();
    }
}
