package ohmprint.audiodevice;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Random;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What the times tell at which blocks arrive. */
class ArrivalTest {
    private static final int RATE = 48_000;
    private static final int BLOCK = 2400;

    /** Blocks of 50 ms that arrive late by chance, up to 40 ms; from the middle on some are missing. */
    private static JavaSound.GapDetector clock(int missing, long seed) {
        Random random = new Random(seed);
        JavaSound.GapDetector clock = new JavaSound.GapDetector(RATE);
        for (int i = 0; i < 100; i++) {
            int due = (i + 1 + (i < 50 ? 0 : missing)) * 50;
            clock.arrived(BLOCK, (long) ((due + 40 * random.nextDouble()) * 1e6));
        }
        return clock;
    }

    @ParameterizedTest
    @CsvSource({"1", "2", "3", "4", "5"})
    void latenessAloneIsNoLoss(long seed) {
        assertThat(clock(0, seed).lostSeconds()).isZero();
    }

    @Test
    void aMissingBlockIsSeen() {
        assertThat(clock(1, 6).lostSeconds()).isCloseTo(0.05, Offset.offset(0.01));
    }

    /** Bursts of 85 ms, and a backlog of half a second that comes at once in the beginning. */
    private static FormatProbe.Pace pace(double real, double asked) {
        FormatProbe.Pace pace = new FormatProbe.Pace(asked, 0);
        boolean more = pace.passed((int) (0.5 * real), 1_000_000);
        for (int i = 1; more; i++) {
            more = pace.passed((int) Math.round(0.085 * real), (long) (i * 85e6));
        }
        return pace;
    }

    @ParameterizedTest
    @CsvSource({
        "48000, 48000, true",
        "44100, 48000, false",
        "48000, 44100, false",
        "96000, 96000, true",
        "0, 48000, false"
    })
    void thePaceTellsNeighbouringRatesApart(double real, double asked, boolean right) {
        assertThat(pace(real, asked).right()).isEqualTo(right);
    }

    /**
     * A busy computer: blocks that are due every 85 ms are held up again and again, for up to 1.5 s, and come at once then.
     * Whole seconds of it have far too few or far too many samples.
     */
    @ParameterizedTest
    @CsvSource({"48000, 1", "48000, 2", "48000, 3", "48000, 4", "48000, 5", "48000, 6", "44100, 7", "44100, 8"})
    void heldUpBlocksDoNotMakeAnotherPace(double real, long seed) {
        Random random = new Random(seed);
        FormatProbe.Pace pace = new FormatProbe.Pace(48_000, 0);
        double time = 0;
        boolean more = true;
        for (int i = 1; more; i++) {
            double due = i * 0.085;
            time = Math.max(due, time + 1e-4);
            if (random.nextInt(20) == 0) {
                time = due + 0.3 + 1.2 * random.nextDouble();
            }
            more = pace.passed((int) Math.round(0.085 * real), (long) (time * 1e9));
        }
        assertThat(pace.right()).isEqualTo(real == 48_000);
    }
}
