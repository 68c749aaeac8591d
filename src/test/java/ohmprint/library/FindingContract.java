package ohmprint.library;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Instant;
import java.util.List;
import java.util.Locale;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.Measurement;
import org.junit.jupiter.api.Test;

/** How measurements are found: by identifier, in lists, by words and filters, by likeness. */
interface FindingContract extends OpenLibrary {
    @Test
    default void theStartOfAnIdentifierIsEnoughWhereItIsTheOnlyOne() throws Exception {
        String id = library().add(InventedUnits.added(1), false).id();

        assertThat(library().entry(id.substring(0, 4)).id()).isEqualTo(id);
        assertThat(library().entry(id.toUpperCase(Locale.ROOT)).id()).isEqualTo(id);
        assertThatThrownBy(() -> library().entry(id.charAt(0) == '0' ? "1111" : "0000"))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("holds no measurement");
        assertThatThrownBy(() -> library().entry("%' OR 1=1"))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("is no identifier");
    }

    @Test
    default void listsAreNewestFirstAndTellHowManyThereAre() throws Exception {
        for (int n = 0; n < 7; n++) {
            library().add(InventedUnits.added(n), false);
        }

        EntryList page = library().page(Filter.CURRENT, 3);

        assertThat(page.total()).isEqualTo(7);
        assertThat(page.entries()).extracting(Entry::serial).containsExactly("KL-6", "KL-5", "KL-4");
        assertThat(library().ids(Filter.CURRENT))
                .hasSize(7)
                .startsWith(page.entries().get(0).id());
    }

    @Test
    default void wordsAndFiltersFindWhatTheyName() throws Exception {
        for (int n = 0; n < 14; n++) {
            library().add(InventedUnits.added(n), false);
        }
        Measurement odd = InventedUnits.unit(20);
        library().add(new NewMeasurement(CurveJson.write(odd), odd, "Őrs", "100% sure_thing, ÄRGER"), false);

        assertThat(found("heron")).containsExactly("KL-8", "KL-1");
        assertThat(found("HERON", "unit 8")).containsExactly("KL-8");
        assertThat(found("ärger")).containsExactly("KL-20");
        assertThat(found("100%")).containsExactly("KL-20");
        assertThat(found("0% s")).containsExactly("KL-20");
        assertThat(found("sure_t")).containsExactly("KL-20");
        assertThat(found("sureXt")).isEmpty();
        assertThat(found("'; DROP TABLE measurement; --")).isEmpty();
        Filter model = Filter.ofModel("brook & fell", "heron");
        assertThat(library().page(model, 9).entries()).extracting(Entry::serial).containsExactly("KL-8", "KL-1");
        Filter time = new Filter(
                List.of(),
                null,
                null,
                null,
                "ribbon",
                null,
                "stimulus",
                "usable",
                Instant.parse("2026-02-01T08:04:00Z"),
                Instant.parse("2026-02-01T08:07:00Z"),
                false);
        assertThat(library().page(time, 9).entries()).extracting(Entry::serial).containsExactly("KL-6", "KL-4");
    }

    private List<String> found(String... words) throws LibraryException {
        EntryList page = library().page(Filter.ofWords(List.of(words)), 50);
        assertThat(page.total()).isEqualTo(page.entries().size());
        return page.entries().stream().map(Entry::serial).toList();
    }

    @Test
    default void theLikestAreOtherUnitsOfTheSameModel() throws Exception {
        for (int n = 0; n < 42; n++) {
            library().add(InventedUnits.added(n), false);
        }
        Measurement unknown = InventedUnits.unit(49, 12, 0.01);

        List<Similarity> likest = library().likest(CurveSignature.of(unknown.curve()), 5, "");

        assertThat(likest).hasSize(5).allSatisfy(l -> {
            assertThat(l.entry().model()).isEqualTo(unknown.microphone().model());
            assertThat(l.bands()).isGreaterThan(28);
        });
        assertThat(likest).extracting(Similarity::distance).isSorted();
        String best = likest.get(0).entry().id();
        assertThat(library().likest(CurveSignature.of(unknown.curve()), 5, best))
                .extracting(l -> l.entry().id())
                .doesNotContain(best);
    }
}
