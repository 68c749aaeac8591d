package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import org.junit.jupiter.api.Test;

/** The level on a terminal: 2 dB a column, marks at −40 and −20 dBFS, clipping kept in sight. */
class LevelBarTest {
    private final StringWriter text = new StringWriter();
    private final RecordDialogue.LevelBar bar = new RecordDialogue.LevelBar(new PrintWriter(text));

    private String shown(double peakDbfs) {
        text.getBuffer().setLength(0);
        bar.show(peakDbfs, 0.5);
        return text.toString();
    }

    @Test
    void theScaleIsStated() {
        assertThat(shown(-30)).isEqualTo("\r   50 %  -60 [##########|####-----|---------] 0 dBFS   -30.0 dBFS ");
        assertThat(shown(Double.NEGATIVE_INFINITY)).contains("[----------|---------|---------]");
    }

    @Test
    void clippingStaysInSightUntilTheEndOfTheTake() {
        assertThat(shown(-0.5)).doesNotContain("clipping");
        assertThat(shown(-1e-6)).endsWith("clipping");
        assertThat(shown(-20)).endsWith("clipping");
        text.getBuffer().setLength(0);
        bar.clear();
        assertThat(text.toString()).isEqualTo("\r" + " ".repeat(78) + "\r");
        assertThat(shown(-20)).doesNotContain("clipping");
    }
}
