package ohmprint.golden;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import ohmprint.NeedsPackage;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What the program puts out is what is stored; {@code scripts/golden} records a difference that is meant. */
@NeedsPackage({"fontconfig", "fonts-dejavu-core"})
@Tag("process")
class GoldenTest {
    @ParameterizedTest
    @EnumSource
    void theOutputsAreThoseThatAreStored(GoldenPart part) throws Exception {
        List<String> differences = part.outputs().differences();
        assertThat(differences)
                .as("outputs that differ from %s; each is whole below %s", GoldenOutputs.STORED, GoldenOutputs.ACTUAL)
                .isEmpty();
    }

    /** What is stored is compared, not judged: a defect must not be stored as what the program should do. */
    @Test
    void noStoredOutputIsADefect() throws IOException {
        try (Stream<Path> files = Files.walk(GoldenOutputs.STORED)) {
            assertThat(files.filter(Files::isRegularFile))
                    .isNotEmpty()
                    .allSatisfy(file -> assertThat(file).content().doesNotContain("internal error", "\nexit 1\n"));
        }
    }
}
