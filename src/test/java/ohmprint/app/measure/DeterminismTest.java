package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TimeZone;
import java.util.TreeMap;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Isolated;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The same takes give the same bytes, whenever, wherever and under whatever language. */
@Isolated("changes the default language")
@Tag("slow")
class DeterminismTest {
    @TempDir
    Path dir;

    @ParameterizedTest
    @ValueSource(
            strings = {
                "ribbon-repaired",
                "ribbon-reference",
                "coil-common-noise",
                "different-noise-reference",
                "coil-different-noise-four"
            })
    void theSameTakesGiveTheSameBytes(String fixture) throws Exception {
        Map<String, String> first = result(fixture, "first");
        assertThat(first).containsKeys("curve.csv", "curve.json", "curve.svg", "curve.png");
        assertSame(result(fixture, "second folder"), first);
    }

    /** Decimal commas, Arabic digits, an i without its dot, and another day; the session has findings with numbers. */
    @ParameterizedTest
    @ValueSource(strings = {"de-DE", "ar-EG-u-nu-arab", "tr-TR", "hi-IN-u-nu-deva"})
    void languageAndTimeZoneChangeNothing(String tag) throws Exception {
        Map<String, String> expected = result("ribbon-reference", "root");
        Locale locale = Locale.getDefault();
        TimeZone zone = TimeZone.getDefault();
        try {
            Locale.setDefault(Locale.forLanguageTag(tag));
            TimeZone.setDefault(TimeZone.getTimeZone("Pacific/Kiritimati"));
            assertThat(String.format("%.1f", 1.5) + "TITLE".toLowerCase(Locale.getDefault()))
                    .as("the language has an effect at all")
                    .isNotEqualTo("1.5title");
            assertSame(result("ribbon-reference", "other"), expected);
        } finally {
            Locale.setDefault(locale);
            TimeZone.setDefault(zone);
        }
    }

    @Test
    void theTimeStandsInTwoFilesOnly() throws Exception {
        assertThat(result("coil-two-loads", "root"))
                .allSatisfy((file, text) -> assertThat(text.split("TIME", -1))
                        .hasSize(Set.of("curve.json", "curve.s1p").contains(file) ? 2 : 1));
    }

    /** The files of a result as text, one byte a character, with TIME for the time of their making. */
    private Map<String, String> result(String fixture, String name) throws Exception {
        MeasureRequest all = MeasureRequest.of(TakeFolder.FIXTURES.resolve(fixture));
        Path out = dir.resolve(name);
        MeasureOutcome outcome =
                TakeFolder.measure(new MeasureRequest(all.session(), out, null, null, all.fromHz(), all.toHz(), false));
        String time = outcome.measurement().provenance().computedAt().toString();
        Map<String, String> files = new TreeMap<>();
        for (String file : outcome.files()) {
            String text = Files.readString(out.resolve(file), StandardCharsets.ISO_8859_1);
            files.put(file, text.replace(time, "TIME"));
        }
        // The time stands in curve.s1p, so its digest in curve.json follows the time.
        if (files.containsKey("curve.s1p")) {
            byte[] timed = Files.readAllBytes(out.resolve("curve.s1p"));
            String digest = HexFormat.of()
                    .formatHex(MessageDigest.getInstance("SHA-256").digest(timed));
            files.computeIfPresent("curve.json", (file, text) -> text.replace(digest, "DIGEST"));
        }
        files.put("findings", outcome.measurement().findings().toString());
        files.put("advice", outcome.advice().toString());
        return files;
    }

    /** Compares file by file and shows the first difference only. */
    private static void assertSame(Map<String, String> actual, Map<String, String> expected) {
        assertThat(actual.keySet()).isEqualTo(expected.keySet());
        expected.forEach((file, text) -> {
            int at = Arrays.mismatch(actual.get(file).toCharArray(), text.toCharArray());
            assertThat(at)
                    .as(
                            "%s differs: \"%s\"",
                            file, at < 0 ? "" : text.substring(Math.max(0, at - 60), Math.min(text.length(), at + 20)))
                    .isNegative();
        });
    }
}
