package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The command line with the real use cases behind it. */
class MainTest {
    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();

    private int run(Object... args) {
        String[] words = Arrays.stream(args).map(String::valueOf).toArray(String[]::new);
        return Main.run(words, new PrintWriter(out), new PrintWriter(err));
    }

    @Test
    void theDemoWritesTheFilesThatItNames(@TempDir Path here) throws IOException {
        Path folder = here.resolve("first look");
        assertThat(run("demo", "--out", folder, "--json")).isZero();
        JsonNode json = new ObjectMapper().readTree(out.toString());
        Path result = Path.of(json.get("folder").textValue());
        assertThat(result).isEqualTo(folder.resolve("result"));
        assertThat(json.get("files"))
                .extracting(JsonNode::textValue)
                .contains("curve.csv", "curve.json", "curve.s1p", "curve.svg", "curve.png")
                .allSatisfy(name -> assertThat(result.resolve(name)).isNotEmptyFile());
        assertThat(json.get("measured_bands").intValue()).isPositive();

        assertThat(run("demo", "--out", folder)).isEqualTo(2);
        assertThat(err.toString()).contains("not empty");
    }

    @Test
    void aMissingSessionIsBadInputAndNothingIsWritten(@TempDir Path here) throws IOException {
        Path session = here.resolve("no such session");
        assertThat(run("measure", session)).isEqualTo(2);
        assertThat(err.toString()).startsWith("ohmprint: ").contains("no such session");
        try (var entries = Files.list(here)) {
            assertThat(entries).isEmpty();
        }
    }

    @Tag("process")
    @Test
    void standardOutputOfAProcessIsUtf8WhateverTheLocale(@TempDir Path here) throws IOException, InterruptedException {
        ProcessBuilder builder = new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Dfile.encoding=windows-1252",
                "-Djava.awt.headless=true",
                "-cp",
                System.getProperty("java.class.path"),
                Main.class.getName(),
                "demo",
                "--out",
                here.resolve("demo").toString());
        builder.environment().put("LC_ALL", "C");
        builder.redirectOutput(here.resolve("stdout").toFile());
        builder.redirectError(here.resolve("stderr").toFile());
        assertThat(builder.start().waitFor()).isZero();
        assertThat(Files.readString(here.resolve("stdout"), StandardCharsets.UTF_8))
                .contains("|Z| Ω  ± 95 %")
                .contains("verdict ");
        assertThat(Files.readString(here.resolve("stderr"), StandardCharsets.UTF_8))
                .as("no progress bar where standard error is a file")
                .doesNotContain("\r");
    }
}
