package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.RandomAccessFile;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Permitted;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Values that nothing on a bench has end as bad input (2) with the range that is permitted, never as an internal error (1). */
class StatedValuesTest {
    private static final Path TAKES = Path.of("fixtures/sessions/ribbon-shorted-turns");

    @TempDir
    Path folder = Path.of(".");

    private String err = "";

    private int run(String... args) {
        StringWriter stderr = new StringWriter();
        int code = Main.run(args, new PrintWriter(new StringWriter()), new PrintWriter(stderr));
        err = stderr.toString();
        return code;
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            tolerance_percent: 20 | tolerance_percent: 1e-306 | tolerance_percent is 1e-306 %; give a number from 0.000001 to 10000 %
            ohm: 300  | ohm: 1e-308  | ohm is 1e-308 Ω; give a number from 0.001 to 1000000000 Ω
            ohm: 300  | ohm: 1e300   | ohm is 1e300 Ω; give a number from 0.001 to 1000000000 Ω
            at_hz: 1000 | at_hz: 1e-300 | at_hz is 1e-300 Hz; give a number from 0.001 to 1000000 Hz
            """)
    void aSpecificationBeyondAnyBenchIsRefused(String from, String to, String message) throws IOException {
        String good = "version: 1\nrated_impedance: {ohm: 300, tolerance_percent: 20, at_hz: 1000}\n";
        Path file = Files.writeString(folder.resolve("spec.yaml"), good.replace(from, to));
        assertThat(run("check", "fixtures/check/healthy.json", "--spec", file.toString()))
                .isEqualTo(2);
        assertThat(err).contains("spec.yaml:2: rated_impedance." + message);
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            series_ohm: 1000 | series_ohm: 1e-308 | takes[1].series_ohm is 1e-308 Ω; give a number from 0.001 to 1000000000 Ω, or 0
            series_ohm: 1000 | series_ohm: 1000, series_tolerance_percent: 1e-306 | takes[1].series_tolerance_percent is 1e-306 %
            series_ohm: 1000 | series_ohm: 1000, series_u_ohm: 1e-306 | takes[1].series_u_ohm is 1e-306 Ω
            resistance_ohm: 100 | resistance_ohm: 1e-308 | generator.resistance_ohm is 1e-308 Ω; give a number from 0.001
            """)
    void anInputSessionBeyondAnyBenchIsRefused(String from, String to, String message) throws IOException {
        for (String name : new String[] {"take-1.wav", "take-2.wav"}) {
            Files.copy(TAKES.resolve(name), folder.resolve(name));
        }
        String good = """
                version: 1
                preamplifier: {label: Bench preamp 2}
                generator: {resistance_ohm: 100}
                takes:
                  - {file: take-1.wav, series_ohm: 100}
                  - {file: take-2.wav, series_ohm: 1000}
                """;
        Files.writeString(folder.resolve("session.yaml"), good.replace(from, to));
        assertThat(run("input", folder.toString())).isEqualTo(2);
        assertThat(err).contains(message);
    }

    @Test
    void aCurveFileBeyondAnyBenchIsRefused() throws IOException {
        String good = Files.readString(Path.of("fixtures/check/healthy.json"));
        String tiny = good.replaceFirst("\"magnitude_ohm\" ?: ?[0-9.]+", "\"magnitude_ohm\": 1e-308");
        String huge = good.replaceFirst("\"resistance_ohm\" ?: ?[0-9.]+", "\"resistance_ohm\": 1e20");
        assertThat(tiny).isNotEqualTo(good);
        assertThat(huge).isNotEqualTo(good);
        Path file = folder.resolve("curve.json");
        Files.writeString(file, tiny);
        assertThat(run("match", file.toString(), "--load", "1500")).isEqualTo(2);
        assertThat(err).contains("curve.json", "magnitude_ohm: should be from 0.000000001 to 1000000000000000 Ω");
        Files.writeString(file, huge);
        assertThat(run("match", file.toString(), "--load", "1500")).isEqualTo(2);
        assertThat(err).contains("resistance_ohm: should be from 0 to");
    }

    @Test
    void aSpecificationOfTooManyRangesOrPointsIsRefused() throws IOException {
        String range = "  - {from_hz: 100, to_hz: 1000, min_ohm: 100, max_ohm: 900}\n";
        Path file = Files.writeString(folder.resolve("spec.yaml"), "version: 1\nmask:\n" + range.repeat(2_000));
        assertThat(run("check", "fixtures/check/healthy.json", "--spec", file.toString()))
                .isEqualTo(2);
        assertThat(err).contains("mask has 2000 ranges; write at most 200");
        StringBuilder points = new StringBuilder("version: 1\nreference:\n  tolerance_percent: 20\n  points:\n");
        for (int i = 0; i < 2_000; i++) {
            points.append("  - {hz: ").append(20 + i).append(", ohm: 300}\n");
        }
        Files.writeString(file, points);
        assertThat(run("check", "fixtures/check/healthy.json", "--spec", file.toString()))
                .isEqualTo(2);
        assertThat(err).contains("reference.points has 2000 points; write at most 1000");
    }

    /** A file with a hole, which takes no room on the disk. */
    @Test
    void aCurveFileOf400MegabytesIsRefusedUnread() throws IOException {
        Path file = folder.resolve("curve.json");
        try (RandomAccessFile hole = new RandomAccessFile(file.toFile(), "rw")) {
            hole.setLength(400_000_000);
        }
        assertThat(run("match", file.toString(), "--load", "1500")).isEqualTo(2);
        assertThat(err).contains("curve.json: is 400000000 bytes long, more than the 8388608 bytes");
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            plan --impedance 0.000000001 --input 3000 | --impedance holds 0.000000001; give a plain number from 0.001 Ω to 1000000000 Ω
            plan --impedance 300 --input 3000 --input-tolerance 0.000000001 | --input-tolerance holds 0.000000001; give 0 or a number from 0.000001 to 10000 %
            match fixtures/check/healthy.json --load 0.000000001 | --load holds 0.000000001; give a plain number from 0.001 Ω
            match fixtures/check/healthy.json --load 1500:0.000000001 | --load holds 0.000000001; give 0 or a number from 0.001 to 1000000 pF
            """)
    void anOptionBeyondAnyBenchIsRefused(String line, String message) {
        assertThat(run(line.split(" "))).isEqualTo(2);
        assertThat(err).contains(message);
    }

    /** The page of the session is where people look the ranges up. */
    @Test
    void thePageOfTheSessionHasEachRange() throws IOException {
        String page = Files.readString(Path.of("src/site/markdown/session.md"));
        for (Permitted range : Permitted.values()) {
            assertThat(page).contains(range.words());
        }
        assertThat(page).contains(Measurement.MOST_BYTES + " bytes");
    }
}
