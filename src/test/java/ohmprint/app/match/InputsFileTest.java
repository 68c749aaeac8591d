package ohmprint.app.match;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.app.match.MatchRequest.Electronics;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class InputsFileTest {
    private static final String SOUND = """
            version: 1
            inputs:
              - name: Desk channel 1
                resistance_ohm: 2400
                capacitance_pf: 470
                gain_db: 60
                ein_dbu: -127
                ein_source_ohm: 150
              - {name: Rack 2, resistance_ohm: 1200, add_phantom_feeds: true, voltage_noise_nv: 1.1, current_noise_pa: 2}
            boosters:
              - {name: Line booster, resistance_ohm: 20000, gain_db: 25, output_ohm: 150}
            """;

    @TempDir
    Path here;

    private InputsFile read(String text) throws IOException, BadInputException {
        Path file = here.resolve("workshop.yaml");
        Files.writeString(file, text);
        return InputsFile.read(file);
    }

    @Test
    void everythingInAListIsRead() throws Exception {
        InputsFile file = read(SOUND);
        assertThat(file.inputs()).extracting(MatchInput::name).containsExactly("Desk channel 1", "Rack 2");
        MatchInput desk = file.inputs().get(0);
        assertThat(desk.ohm()).isEqualTo(2400);
        assertThat(desk.electronics()).isEqualTo(new Electronics(60.0, -127.0, 150.0, null, null));
        MatchInput rack = file.inputs().get(1);
        assertThat(rack.ohm()).isEqualTo(1200);
        assertThat(rack.impedance().admittance(1000).getReal()).isCloseTo(1 / 1200.0 + 1 / 13_620.0, within(1e-12));
        assertThat(rack.electronics()).isEqualTo(new Electronics(null, null, null, 1.1, 2.0));
        assertThat(file.boosters().get(0).outputOhm()).isEqualTo(150);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "version: 1            | version: 2           | 1: version is 2, but this program reads version 1",
                "resistance_ohm: 2400  | resistence_ohm: 2400 | 4: inputs[0].resistence_ohm is not a known key; did you",
                "resistance_ohm: 2400  | resistance_ohm: 0    | 4: inputs[0].resistance_ohm is 0 Ω",
                "resistance_ohm: 2400  | resistance_ohm: unknown | 4: inputs[0].resistance_ohm is unknown, with which",
                "gain_db: 60           | gain_db: loud        | 6: inputs[0].gain_db is 'loud'",
                "gain_db: 60           | gain_db: 600         | 6: inputs[0].gain_db is 600 dB; give a number from -200",
                "ein_dbu: -127         | ein_dbu: -135        | 7: inputs[0].ein_dbu cannot be: an equivalent input noise",
                "ein_dbu: -127         | voltage_noise_nv: 1  | 8: inputs[0].ein_source_ohm is given without ein_dbu",
                "name: Rack 2          | name: Desk channel 1 | 9: inputs[1].name is 'Desk channel 1', as on line 3",
                "name: Rack 2,         | output_ohm: 3,       | 9: inputs[1].output_ohm is not a known key",
                "'gain_db: 25, '       | ''                   | 11: boosters[0].gain_db is missing; give the gain",
                "voltage_noise_nv: 1.1 | ein_dbu: -120, voltage_noise_nv: 1 | 9: inputs[1].ein_dbu cannot be: noise is given both",
                "voltage_noise_nv: 1.1 | voltage_noise_nv: -1 | 9: inputs[1].voltage_noise_nv is -1 nV/√Hz",
                "resistance_ohm: 1200  | curve: none.csv      | 9: inputs[1].curve is none.csv, which is not in the folder"
            })
    void whatIsWrongIsToldWithItsLine(String right, String wrong, String message) {
        assertThat(SOUND).contains(right);
        assertThatThrownBy(() -> read(SOUND.replace(right, wrong)))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("workshop.yaml:" + message);
    }

    @Test
    void listsHaveToBeListsAndFilesThere() {
        assertThatThrownBy(() -> read("version: 1\ninputs: []\n")).hasMessageContaining("2: inputs is an empty list");
        assertThatThrownBy(() -> read("version: 1\n")).hasMessageContaining("inputs is missing");
        assertThatThrownBy(() -> InputsFile.read(here.resolve("no.yaml"))).hasMessageContaining("no.yaml is not there");
        assertThatThrownBy(() -> InputsFile.read(here)).hasMessageContaining("is no file");
    }
}
