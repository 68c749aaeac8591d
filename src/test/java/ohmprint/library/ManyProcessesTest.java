package ohmprint.library;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import ohmprint.exchange.CurveJson;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Several processes of the command line add to one library that none of them finds made. How many of how many results each:
 * {@code -Dohmprint.library.processes} and {@code -Dohmprint.library.adds}; {@code scripts/stress-library} runs eight of a
 * thousand each.
 */
@Tag("process")
class ManyProcessesTest {
    private static final int PROCESSES = Integer.getInteger("ohmprint.library.processes", 3);
    private static final int ADDS = Integer.getInteger("ohmprint.library.adds", 12);
    private static final int SHARED = Math.max(1, ADDS / 10);

    @TempDir
    Path folder;

    @Test
    void nothingIsLostAndNothingTwiceInOneFile() throws Exception {
        addAll(new LibraryFile(folder.resolve("shared/workshop.db")), Map.of());
    }

    @Test
    void nothingIsLostAndNothingTwiceInOneDatabase() throws Exception {
        addAll(LibraryLocation.of(TestServer.newDatabase(), TestServer.owner()), TestServer.owner());
    }

    private void addAll(LibraryLocation library, Map<String, String> environment) throws Exception {
        List<Process> processes = new ArrayList<>();
        for (int p = 0; p < PROCESSES; p++) {
            List<String> arguments = new ArrayList<>(List.of("library", "add", "--library", library.toString()));
            for (int n = 0; n < ADDS; n++) {
                // the first few are added by every process
                arguments.add(ChildProgram.result(folder, n < SHARED ? n : ADDS * (p + 1) + n));
            }
            processes.add(ChildProgram.start(folder, "process-" + p, environment, arguments));
        }
        Set<String> printed = new HashSet<>();
        for (int p = 0; p < PROCESSES; p++) {
            assertThat(ChildProgram.end(processes.get(p)))
                    .as(Files.readString(folder.resolve("process-" + p + ".err")))
                    .isZero();
            List<String> ids = Files.readAllLines(folder.resolve("process-" + p + ".out"));
            assertThat(ids).hasSize(ADDS).doesNotHaveDuplicates();
            printed.addAll(ids);
            assertThat(Files.readAllLines(folder.resolve("process-" + p + ".err")))
                    .allMatch(line -> line.contains("in the library already"));
        }

        int wanted = PROCESSES * (ADDS - SHARED) + SHARED;
        try (CurveLibrary open = CurveLibrary.open(library)) {
            assertThat(open.ids(Filter.EVERYTHING)).hasSize(wanted).containsExactlyInAnyOrderElementsOf(printed);
            assertThat(open.verify(CurveJson::read))
                    .isEqualTo(new LibraryHealth(library.toString(), wanted, List.of()));
        }
    }
}
