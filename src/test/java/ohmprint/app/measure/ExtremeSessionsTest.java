package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.stream.Stream;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.cli.Main;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.dsp.Noise;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** Contradictory, degenerate and extreme sessions end with a result, a message or a refusal, never with an internal error. */
@Tag("statistics")
class ExtremeSessionsTest {
    private static final int RATE = SimulatedSession.RATE;
    private static final MovingCoil COIL = (MovingCoil) SimulatedSession.COIL;

    @TempDir
    Path dir;

    /** Makes a session in a folder. */
    @FunctionalInterface
    private interface Making {
        TakeFolder in(Path folder) throws Exception;
    }

    private static Arguments session(String name, Making making) {
        return Arguments.of(name, making);
    }

    private static Making entered(double... ohm) {
        return dir -> {
            double[] loads = {150, 680, 2200};
            double[] sweep = SimulatedSession.sweep();
            SimulatedSession bench = new SimulatedSession(dir, 11);
            for (int k = 0; k < loads.length; k++) {
                bench.take(sweep, COIL, loads[k], ohm[k], 1);
            }
            return bench.folder("sweep", sweep);
        };
    }

    private static Making edited(String fixture, String take, java.util.function.Consumer<double[]> change) {
        return dir -> TakeFolder.copyOf(fixture, dir).edit(take, change);
    }

    static Stream<Arguments> sessions() {
        return Stream.of(
                session("three loads turned round", entered(2200, 150, 680)),
                session("three loads turned round the other way", entered(680, 2200, 150)),
                session("loads of a milliohm and a gigohm", entered(1e-3, 680, 1e9)),
                session("three loads nearly alike", entered(680, 680.001, 680.002)),
                session("a sweep of another length in one take", dir -> {
                    double[] sweep = SimulatedSession.sweep();
                    double[] longer =
                            ExponentialSweep.ofBand(20, 20_000, 1.9, -6, RATE).samples();
                    return new SimulatedSession(dir, 12)
                            .take(sweep, 150)
                            .take(longer, 680)
                            .take(sweep, 2200)
                            .folder("sweep", sweep);
                }),
                session("nothing below 200 Hz", dir -> {
                    double[] sound = bandLimited(SimulatedSession.pink(3, 5), 200);
                    return new SimulatedSession(dir, 13)
                            .take(sound, 150)
                            .take(sound, 680)
                            .take(sound, 1e9)
                            .folder("noise", sound);
                }),
                session("no noise at all", dir -> {
                    double[] sweep = SimulatedSession.sweep();
                    return new SimulatedSession(dir, 14)
                            .noise(0)
                            .take(sweep, 150)
                            .take(sweep, COIL, 680, 100, 1)
                            .take(sweep, 2200)
                            .folder("sweep", sweep);
                }),
                session("one take 60 dB lower", dir -> {
                    double[] sweep = SimulatedSession.sweep();
                    return new SimulatedSession(dir, 15)
                            .take(sweep, 150)
                            .take(sweep, COIL, 680, 680, 1e-3)
                            .take(sweep, 2200)
                            .folder("sweep", sweep);
                }),
                session("polarity of one take", dir -> {
                    double[] sweep = SimulatedSession.sweep();
                    return new SimulatedSession(dir, 16)
                            .take(sweep, 150)
                            .take(sweep, COIL, 680, 680, -1)
                            .take(sweep, 2200)
                            .folder("sweep", sweep);
                }),
                session("a take of zeros", edited("ribbon-reference", "take-2.wav", x -> Arrays.fill(x, 0))),
                session("a take of one value", edited("ribbon-reference", "take-2.wav", x -> Arrays.fill(x, 0.25))),
                session(
                        "a take of other noise",
                        edited(
                                "ribbon-reference",
                                "take-2.wav",
                                x -> System.arraycopy(Noise.pink(x.length, 0.1, RATE, 3), 0, x, 0, x.length))),
                session(
                        "the reference channel moved",
                        dir -> new DrawnBench(DrawnBench.Mistake.REFERENCE_MOVED, new double[] {150, 680, 2200}, 4)
                                .write(dir.resolve("drawn"))));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("sessions")
    void endWithoutAnInternalError(String name, Making making) throws Exception {
        TakeFolder session = making.in(dir);
        StringWriter err = new StringWriter();
        int code = Main.run(
                new String[] {"measure", session.folder.toString()},
                new PrintWriter(new StringWriter()),
                new PrintWriter(err));
        assertThat(code).as(name + ": " + err).isIn(0, 2, 3);
        assertThat(err.toString()).doesNotContain("NaN", "Infinity");
    }

    /** Takes out what lies below a frequency, as music without bass. */
    private static double[] bandLimited(double[] sound, double hz) {
        return SimulatedSession.filtered(
                sound,
                f -> f < hz
                        ? org.apache.commons.math3.complex.Complex.ZERO
                        : org.apache.commons.math3.complex.Complex.ONE);
    }
}
