package ohmprint.app.library;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.IntUnaryOperator;
import ohmprint.app.BadInputException;
import ohmprint.exchange.CurveJson;
import ohmprint.library.InventedUnits;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.yaml.snakeyaml.Yaml;

@Tag("slow")
class SpreadOfModelTest {
    @TempDir
    Path folder;

    private LibraryConnection place() {
        return new LibraryConnection(folder.resolve("w.db").toString(), Map.of());
    }

    /** Adds units of model 1, unit i under the number that is given for it. */
    private List<String> add(int count, IntUnaryOperator number, int fraction) throws Exception {
        List<String> files = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            Path file = folder.resolve("unit-" + i + "-" + fraction + ".json");
            Files.writeString(file, CurveJson.write(InventedUnits.unit(number.applyAsInt(i), 1, fraction, 0.001)));
            files.add(file.toString());
        }
        return AddToLibrary.run(
                        place(), new AddToLibrary.Request(files, "Ada Quill", null, null, null, false), added -> {})
                .stream()
                .map(AddToLibrary.Outcome::id)
                .toList();
    }

    @Test
    void limitsAreTheOrderStatisticsThatThePlottingPositionNames() throws Exception {
        add(39, i -> i, 3);

        Spread spread = Spread.of(place(), null, "heron");

        assertThat(spread.units()).hasSize(39);
        for (int b : new int[] {0, 12, 29}) {
            Spread.Band band = spread.bands().get(b);
            double[] sorted = spread.units().stream()
                    .mapToDouble(u -> u.measurement().curve().values().get(b).magnitudeOhm())
                    .sorted()
                    .toArray();
            // p(n + 1) with n = 39: the 2nd, 20th and 38th of 39
            assertThat(band.low()).isCloseTo(sorted[1], within(1e-6 * sorted[1]));
            assertThat(band.median()).isCloseTo(sorted[19], within(1e-6 * sorted[19]));
            assertThat(band.high()).isCloseTo(sorted[37], within(1e-6 * sorted[37]));
        }
    }

    @Test
    void ofAUnitTheNewestCountsAndFewUnitsAreWarnedOf() throws Exception {
        add(4, i -> i, 12);
        add(4, i -> i, 3);

        Spread spread = Spread.of(place(), "Brook & Fell", "Heron");

        assertThat(spread.units()).hasSize(4);
        assertThat(spread.notes()).anySatisfy(n -> assertThat(n).contains("least and the greatest"));
        assertThatThrownBy(() -> Spread.of(place(), "Other", "Heron"))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("no unit of model Heron by Other");
    }

    @Test
    void theSpecificationHoldsTheLimits() throws Exception {
        add(5, i -> i, 3);
        Spread spread = Spread.of(place(), null, "Heron");

        JsonNode yaml = new ObjectMapper().valueToTree(new Yaml().load(spread.specification()));

        assertThat(yaml.path("version").intValue()).isEqualTo(1);
        assertThat(yaml.path("microphone").path("model").textValue()).isEqualTo("Heron");
        assertThat(yaml.path("reference").path("units").intValue()).isEqualTo(5);
        JsonNode point = yaml.path("reference").path("points").path(7);
        Spread.Band band = spread.bands().get(7);
        assertThat(point.path("hz").doubleValue()).isEqualTo(band.hz());
        assertThat(point.path("low_ohm").doubleValue()).isEqualTo(band.low());
        assertThat(point.path("ohm").doubleValue()).isEqualTo(band.median());
        assertThat(point.path("high_ohm").doubleValue()).isEqualTo(band.high());
    }

    @Test
    void whatWasSupersededDoesNotCount() throws Exception {
        List<String> ids = add(3, i -> i, 3);
        LibraryMaintenance.supersede(place(), ids.get(0), ids.get(1), "same unit", "Ada Quill");

        assertThat(Spread.of(place(), null, "Heron").units()).hasSize(2);
    }
}
