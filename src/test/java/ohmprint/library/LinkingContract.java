package ohmprint.library;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;

/** How one measurement takes the place of another, or stands after a repair of it. */
interface LinkingContract extends OpenLibrary {
    @Test
    default void whatIsSupersededStaysButNoLongerCounts() throws Exception {
        String older = library().add(InventedUnits.added(1), false).id();
        Link link = new Link(
                Link.Kind.SUPERSEDED, older, InventedUnits.added(2).id(), "load was wrong", "Ada Quill", Instant.now());

        String newer =
                library().add(InventedUnits.added(2), false, List.of(link)).id();

        assertThat(library().entry(older).supersededBy()).isEqualTo(newer);
        assertThat(library().page(Filter.CURRENT, 9).entries())
                .extracting(Entry::id)
                .containsExactly(newer);
        assertThat(library().page(Filter.EVERYTHING, 9).total()).isEqualTo(2);
        assertThat(library().link(link)).isFalse();
        assertThatThrownBy(() ->
                        library().link(new Link(Link.Kind.SUPERSEDED, newer, older, "no", "Ada Quill", Instant.now())))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("is itself superseded");
        String third = library().add(InventedUnits.added(3), false).id();
        assertThatThrownBy(() ->
                        library().link(new Link(Link.Kind.SUPERSEDED, older, third, "no", "Ada Quill", Instant.now())))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("superseded by " + newer + " already");
    }

    @Test
    default void aRepairLinksBeforeAndAfter() throws Exception {
        String before = library().add(InventedUnits.added(1), false).id();
        String after = library().add(InventedUnits.added(2), false).id();
        Link link = new Link(
                Link.Kind.REPAIRED, before, after, "new ribbon", "Ada Quill", Instant.parse("2026-03-01T10:00:00Z"));

        assertThat(library().link(link)).isTrue();

        assertThat(library().links(library().entry(after))).containsExactly(link);
        assertThat(library().links()).containsExactly(link);
        assertThat(library().page(Filter.CURRENT, 9).total()).isEqualTo(2);
    }

    @Test
    default void anAddWithAnImpossibleLinkAddsNothing() throws Exception {
        NewMeasurement second = InventedUnits.added(2);
        Link nowhere = new Link(Link.Kind.SUPERSEDED, "0123456789ab", second.id(), "x", "Ada Quill", Instant.now());

        assertThatThrownBy(() -> library().add(second, false, List.of(nowhere))).isInstanceOf(LibraryException.class);

        assertThat(library().page(Filter.EVERYTHING, 9).total()).isZero();
    }
}
