package ohmprint.chart;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.Font;
import java.util.List;
import org.junit.jupiter.api.Test;

class TextPainterTest {
    private static final Font FONT = TextPainter.plain(12);

    @Test
    void linesBreakAtBlanksAndLoseNothing() {
        String text = "take-3.wav clips for 41 ms; lower the level and record it again";
        List<String> lines = TextPainter.wrap(text, FONT, 150);

        assertThat(lines)
                .hasSizeGreaterThan(2)
                .allSatisfy(l -> assertThat(TextPainter.width(l, FONT)).isLessThan(150.0));
        assertThat(String.join(" ", lines)).isEqualTo(text);
    }

    @Test
    void aWordTooLongForALineIsBrokenWithin() {
        String word = "x".repeat(80);
        List<String> lines = TextPainter.wrap(word, FONT, 150);

        assertThat(lines)
                .hasSizeGreaterThan(2)
                .allSatisfy(l -> assertThat(TextPainter.width(l, FONT)).isLessThan(150.1));
        assertThat(String.join("", lines)).isEqualTo(word);
    }

    @Test
    void whatExceedsTheLinesEndsInAnEllipsis() {
        List<String> lines = TextPainter.wrap("one two three four five six seven eight nine ten", FONT, 100, 2);

        assertThat(lines).hasSize(2);
        assertThat(lines.get(1)).endsWith("…");
        assertThat(TextPainter.width(lines.get(1), FONT)).isLessThan(100.1);
    }

    @Test
    void aPairOfSurrogatesIsNeverSplit() {
        String notes = "𝄞".repeat(60);

        assertThat(TextPainter.oneLine(notes, FONT, 200)).matches("(𝄞)+…");
        assertThat(String.join("", TextPainter.wrap(notes, FONT, 200))).isEqualTo(notes);
    }

    @Test
    void whatNoPictureCanHoldIsReplaced() {
        assertThat(TextPainter.oneLine("a\nb\u0000c\uD800d", FONT, 500)).isEqualTo("a b\uFFFDc\uFFFDd");
    }
}
