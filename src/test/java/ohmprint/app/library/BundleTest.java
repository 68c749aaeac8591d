package ohmprint.app.library;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import java.util.zip.ZipOutputStream;
import ohmprint.app.BadInputException;
import ohmprint.app.library.ReadLibrary.EntryDetail;
import ohmprint.exchange.CurveJson;
import ohmprint.files.Sha256;
import ohmprint.library.Filter;
import ohmprint.library.ImportResult;
import ohmprint.library.InventedUnits;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

@Tag("slow")
class BundleTest {
    @TempDir
    Path folder;

    private Path bundle;
    private List<String> ids;

    @BeforeEach
    void export() throws Exception {
        List<String> files = new ArrayList<>();
        for (int n = 0; n < 3; n++) {
            Path file = Files.writeString(folder.resolve(n + ".json"), CurveJson.write(InventedUnits.unit(n)));
            files.add(file.toString());
        }
        LibraryConnection ours = place("ours.db");
        ids =
                AddToLibrary.run(
                                ours,
                                new AddToLibrary.Request(files, "Ada Quill", "a note", null, null, false),
                                added -> {})
                        .stream()
                        .map(AddToLibrary.Outcome::id)
                        .toList();
        LibraryMaintenance.repaired(ours, ids.get(0), ids.get(1), "coil", "Ada Quill");
        AddToLibrary.specification(ours, Files.writeString(folder.resolve("Wren.yaml"), "version: 1\n"), null, "Ada");
        bundle = folder.resolve("bundle.zip");
        assertThat(Bundle.export(ours, List.of(), Filter.CURRENT, true, bundle)).isEqualTo(3);
    }

    private LibraryConnection place(String name) {
        return new LibraryConnection(folder.resolve(name).toString(), Map.of());
    }

    @Test
    void anotherLibraryHoldsTheSameAfterwardsAndASecondTimeChangesNothing() throws Exception {
        LibraryConnection theirs = place("theirs.db");

        ImportResult first = Bundle.take(theirs, bundle);
        ImportResult second = Bundle.take(theirs, bundle);

        assertThat(first.added()).containsExactlyInAnyOrderElementsOf(ids);
        assertThat(first.links()).isEqualTo(1);
        assertThat(first.specifications()).containsExactly("Wren");
        assertThat(first.conflicts()).isEmpty();
        assertThat(second).isEqualTo(new ImportResult(List.of(), 3, 0, List.of(), List.of()));
        EntryDetail there = ReadLibrary.show(theirs, ids.get(0));
        EntryDetail here = ReadLibrary.show(place("ours.db"), ids.get(0));
        assertThat(there.document()).isEqualTo(here.document());
        assertThat(there.links()).isEqualTo(here.links());
        assertThat(there.entry().note()).isEqualTo("a note");
        assertThat(LibraryMaintenance.verify(theirs).problems()).isEmpty();
    }

    @Test
    void theSameIsExportedAsTheSameBytesAndNothingIsOverwritten() throws Exception {
        Path again = folder.resolve("again.zip");
        Bundle.export(place("ours.db"), List.of(), Filter.CURRENT, true, again);
        assertThat(again).hasSameBinaryContentAs(bundle);
        assertThatThrownBy(() -> Bundle.export(place("ours.db"), ids, Filter.CURRENT, false, again))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("is there already");
        assertThatThrownBy(() -> Bundle.export(
                        place("ours.db"), List.of("ffff"), Filter.CURRENT, false, folder.resolve("x.zip")))
                .isInstanceOf(BadInputException.class);
        assertThat(folder.resolve("x.zip")).doesNotExist();
    }

    /** Seven curves and specifications of spaces and the like: 1.2 MB that would fill 110 MB. */
    @Test
    void aBundleThatUnpacksToMuchMoreThanItIsIsRefused() throws Exception {
        byte[] padding = new byte[1_100_000];
        new java.util.Random(5).nextBytes(padding);
        String noise = java.util.HexFormat.of().formatHex(padding);
        refused("unpacks to far more than measurements have", files -> {
            files.put("specifications/900.yaml", bytes("# " + noise));
            for (int n = 901; n < 915; n++) {
                files.put("specifications/" + n + ".yaml", bytes(" ".repeat(7_900_000)));
            }
            resum(files);
        });
    }

    @Test
    void conflictsAreTold() throws Exception {
        LibraryConnection theirs = place("theirs.db");
        Bundle.take(theirs, bundle);
        LibraryMaintenance.remove(theirs, ids.get(2), "doubtful", "Ben");
        AddToLibrary.specification(
                theirs, Files.writeString(folder.resolve("x.yaml"), "version: 1\nname: x\n"), "Wren", "Ben");

        List<String> conflicts = Bundle.take(theirs, bundle).conflicts();

        assertThat(conflicts).hasSize(2);
        assertThat(conflicts.get(0)).contains(ids.get(2)).contains("doubtful");
        assertThat(conflicts.get(1)).contains("specification Wren").contains("differs");
    }

    @Test
    void aBundleThatIsDamagedOrHoldsOtherThingsIsRefusedAsAWhole() throws Exception {
        String json = "measurements/" + ids.get(0) + "/curve.json";
        refused(
                "does not match its checksum",
                files -> files.computeIfPresent(json, (n, t) -> text(t, "ribbon", "Ribbon")));
        refused("is missing", files -> files.remove(json));
        refused("does not match its checksum, or has none", files -> files.put("specifications/9.yaml", bytes("a: 1")));
        refused("does not belong", files -> files.put("../../evil.txt", bytes("x")));
        refused("does not belong", files -> files.put("/etc/evil", bytes("x")));
        refused("does not belong", files -> files.put("measurements/" + ids.get(0) + "/../x", bytes("x")));
        refused("does not belong", files -> files.put("measurements/", bytes("")));
        refused("SHA256SUMS is missing", files -> files.remove("SHA256SUMS"));
        refused("bundle.json is missing", files -> {
            files.remove("bundle.json");
            resum(files);
        });
        refused("is not the measurement that bundle.json names", files -> {
            files.computeIfPresent(json, (n, t) -> text(t, "ribbon", "Ribbon"));
            resum(files);
        });
        refused("is damaged", files -> {
            files.put(json, bytes("{}"));
            resum(files);
        });
        refused("cannot be understood", files -> {
            files.put("bundle.json", bytes("{\"format\":\"ohmprint-bundle\",\"version\":1}"));
            resum(files);
        });
        refused("use a newer program", files -> {
            files.computeIfPresent("bundle.json", (n, t) -> text(t, "\"version\" : 1", "\"version\" : 2"));
            resum(files);
        });
        refused("unpacks to far more", files -> {
            files.put("specifications/8.yaml", new byte[17 << 20]);
            resum(files);
        });
    }

    @Test
    void aBundleThatWasCutOrChangedAnywhereTakesNothingIn() throws Exception {
        byte[] whole = Files.readAllBytes(bundle);
        Random random = new Random(12);
        Path torn = folder.resolve("torn.zip");
        int refused = 0;
        for (int i = 0; i < 60; i++) {
            byte[] bytes = whole.clone();
            if (i % 3 == 0) {
                bytes = Arrays.copyOf(bytes, random.nextInt(bytes.length));
            } else {
                bytes[random.nextInt(bytes.length)] ^= (byte) (1 << random.nextInt(8));
            }
            Files.write(torn, bytes);
            LibraryConnection place = place("torn-" + i + ".db");
            try {
                // a change of what zip does not need (a time, a comment) does no harm
                assertThat(Bundle.take(place, torn).added()).hasSize(3);
                assertThat(LibraryMaintenance.verify(place).problems()).isEmpty();
            } catch (BadInputException e) {
                refused++;
                assertThat(folder.resolve("torn-" + i + ".db")).doesNotExist();
            }
        }
        assertThat(refused).isGreaterThan(45);
    }

    private void refused(String why, Consumer<Map<String, byte[]>> change) throws Exception {
        Map<String, byte[]> files = new LinkedHashMap<>();
        try (ZipFile zip = new ZipFile(bundle.toFile())) {
            for (ZipEntry entry : zip.stream().map(e -> (ZipEntry) e).toList()) {
                files.put(entry.getName(), zip.getInputStream(entry).readAllBytes());
            }
        }
        change.accept(files);
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (ZipOutputStream zip = new ZipOutputStream(bytes)) {
            for (Map.Entry<String, byte[]> file : files.entrySet()) {
                zip.putNextEntry(new ZipEntry(file.getKey()));
                zip.write(file.getValue());
            }
        }
        Path odd = Files.write(folder.resolve("odd.zip"), bytes.toByteArray());
        assertThatThrownBy(() -> Bundle.take(place("odd.db"), odd))
                .as(why)
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining(why);
        assertThat(folder.resolve("odd.db")).doesNotExist();
        assertThat(folder.getParent().resolve("evil.txt")).doesNotExist();
    }

    private static void resum(Map<String, byte[]> files) {
        String sums = files.entrySet().stream()
                .filter(file -> !file.getKey().equals("SHA256SUMS"))
                .map(file -> Sha256.of(new String(file.getValue(), StandardCharsets.UTF_8)) + "  " + file.getKey())
                .collect(Collectors.joining("\n"));
        files.put("SHA256SUMS", bytes(sums + "\n"));
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private static byte[] text(byte[] bytes, String old, String fresh) {
        return bytes(new String(bytes, StandardCharsets.UTF_8).replace(old, fresh));
    }

    @Test
    void whatIsNoBundleIsRefused() throws IOException {
        Path text = Files.writeString(folder.resolve("text.zip"), "not a zip file");
        for (Path path : List.of(text, folder, folder.resolve("none.zip"))) {
            assertThatThrownBy(() -> Bundle.take(place("x.db"), path)).isInstanceOf(BadInputException.class);
        }
    }
}
