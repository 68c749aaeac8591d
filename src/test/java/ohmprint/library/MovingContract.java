package ohmprint.library;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Iterator;
import java.util.List;
import ohmprint.files.Sha256;
import org.junit.jupiter.api.Test;

/** What goes from one library into another, and into a backup. */
interface MovingContract extends OpenLibrary {
    @Test
    default void whatAnotherLibraryHandsOutIsTakenInOnceAndConflictsAreTold() throws Exception {
        List<NewMeasurement> all = List.of(InventedUnits.added(1), InventedUnits.added(2), InventedUnits.added(3));
        Link repaired = new Link(
                Link.Kind.REPAIRED,
                all.get(0).id(),
                all.get(1).id(),
                "coil",
                "Ben",
                Instant.parse("2026-03-01T10:00:00Z"));
        Link dangling = new Link(
                Link.Kind.REPAIRED, all.get(0).id(), "0123456789ab", "", "Ben", Instant.parse("2026-03-01T10:00:00Z"));
        KeptSpecification spec = new KeptSpecification(
                "Heron", 4, Sha256.of("a: 1\n"), "a: 1\n", "Ben", Instant.parse("2026-03-01T10:00:00Z"));
        List<Link> links = List.of(repaired, dangling);

        ImportResult first = library().takeIn(all, links, List.of(spec));
        ImportResult second = library().takeIn(all, links, List.of(spec));

        assertThat(first.added())
                .containsExactlyElementsOf(all.stream().map(NewMeasurement::id).toList());
        assertThat(first.links()).isEqualTo(1);
        assertThat(first.specifications()).containsExactly("Heron");
        assertThat(first.conflicts()).singleElement().asString().contains("0123456789ab is not in this library");
        assertThat(second.added()).isEmpty();
        assertThat(second.known()).isEqualTo(3);
        assertThat(second.links()).isZero();
        library().remove(library().entry(all.get(2).id()), "nonsense", "Ada Quill");
        library().keepSpecification("Heron", "b: 1\n", "Ada Quill");
        assertThat(library().takeIn(all, links, List.of(spec)).conflicts())
                .anySatisfy(c -> assertThat(c).contains("was removed").contains("nonsense"))
                .anySatisfy(c -> assertThat(c).contains("its text differs here"));
    }

    @Test
    default void whatCannotBeReadToTheEndIsNotTakenInAtAll() throws Exception {
        Iterable<NewMeasurement> torn = () -> new Iterator<>() {
            private int n;

            @Override
            public boolean hasNext() {
                return true;
            }

            @Override
            public NewMeasurement next() {
                if (n == 2) {
                    throw new IllegalStateException("torn");
                }
                return InventedUnits.added(n++);
            }
        };

        assertThatThrownBy(() -> library().takeIn(torn, List.of(), List.of())).hasMessageContaining("torn");

        assertThat(library().page(Filter.EVERYTHING, 9).total()).isZero();
    }

    @Test
    default void aBackupIsALibraryFileThatHoldsEverything() throws Exception {
        String id = library().add(InventedUnits.added(1), false).id();
        String second = library().add(InventedUnits.added(2), false).id();
        library().keepSpecification("Heron", "version: 1\n", "Ada Quill");
        library().link(new Link(Link.Kind.REPAIRED, id, second, "coil", "Ben", Instant.parse("2026-03-01T10:00:00Z")));
        Path file = folder().resolve("backup.db");

        library().backUp(file);

        try (CurveLibrary copy = CurveLibrary.open(new LibraryFile(file))) {
            EntryList held = library().page(Filter.EVERYTHING, 9);
            assertThat(copy.page(Filter.EVERYTHING, 9))
                    .isEqualTo(new EntryList(file.toString(), held.entries(), held.total()));
            assertThat(copy.links()).isEqualTo(library().links());
            assertThat(copy.specifications()).isEqualTo(library().specifications());
            assertThat(copy.verify(READER)).isEqualTo(new LibraryHealth(file.toString(), 2, List.of()));
        }
        assertThatThrownBy(() -> library().backUp(file))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("is there already");
        try (var left = Files.list(folder())) {
            assertThat(left.map(p -> p.getFileName().toString()).filter(n -> n.startsWith(".")))
                    .isEmpty();
        }
    }
}
