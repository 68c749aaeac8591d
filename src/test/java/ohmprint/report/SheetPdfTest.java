package ohmprint.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import ohmprint.curve.SampleMeasurements;
import ohmprint.report.Sheet.Drawing;
import ohmprint.report.Sheet.Fact;
import ohmprint.report.Sheet.Facts;
import ohmprint.report.Sheet.Notice;
import ohmprint.report.Sheet.Section;
import ohmprint.report.Sheet.Table;
import ohmprint.report.Sheet.Tone;
import ohmprint.report.Sheet.Words;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;

/** Sheets on the pages of a PDF file. */
class SheetPdfTest {
    private static final Instant TIME = Instant.parse("2026-11-25T10:00:00Z");

    static Sheet sheet() {
        Chart light = ImpedanceChart.of(SampleMeasurements.movingCoil(), ChartTheme.LIGHT);
        Chart dark = ImpedanceChart.of(SampleMeasurements.movingCoil(), ChartTheme.DARK);
        return new Sheet(
                "Bench ribbon 7",
                "Source impedance, serial 0001",
                new Sheet.Workshop("Lark & Fen microphone repair", List.of("2 Mill Lane"), null),
                null,
                List.of(
                        new Section(
                                "Result",
                                List.of(
                                        new Notice(Tone.GOOD, "within", "the specification over 200 Hz to 10 kHz"),
                                        new Drawing(light, dark, "|Z| rises to 300 Ω", "The curve"),
                                        new Facts(List.of(
                                                new Fact("Least load", "3.1 kΩ"), new Fact("Ten times", "3.0 kΩ"))))),
                        new Section(
                                "How",
                                List.of(
                                        new Words("√ ∠ µ ° ± − ≤ Ω <b>"),
                                        new Table(
                                                "Takes",
                                                List.of("take", "load"),
                                                List.of(List.of("a.wav", "150 Ω")))))),
                "ohmprint 0.1.0");
    }

    private static String text(byte[] pdf) throws IOException {
        try (PDDocument document = Loader.loadPDF(pdf)) {
            return new PDFTextStripper().getText(document);
        }
    }

    @Test
    void theSameSheetGivesTheSameBytes() throws IOException {
        byte[] once = SheetPdf.of(sheet(), Paper.A4, TIME);
        Files.write(Path.of("target/sheet.pdf"), once);
        Files.writeString(Path.of("target/sheet.html"), SheetHtml.of(sheet()));
        assertThat(SheetPdf.of(sheet(), Paper.A4, TIME)).isEqualTo(once);
    }

    @Test
    void itsTextIsThereAlsoThatOfTheChart() throws IOException {
        assertThat(text(SheetPdf.of(sheet(), Paper.LETTER, TIME)))
                .contains("Bench ribbon 7", "√ ∠ µ ° ± − ≤ Ω <b>", "Frequency in Hz", "10k");
    }
}
