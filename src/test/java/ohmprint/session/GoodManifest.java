package ohmprint.session;

import java.io.IOException;
import java.nio.file.Path;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.io.TempDir;

/** A good manifest with its takes, for tests that spoil one thing in it. */
abstract class GoodManifest {
    static final String GOOD = """
            version: 1
            microphone:
              label: Bench ribbon 7
              transducer: ribbon
            input: {resistance_ohm: 3000, capacitance_pf: 470}
            stimulus: {kind: sweep, file: stimulus.wav}
            takes:
              - {file: take-1.wav, load_ohm: 150}
              - {file: take-2.wav, load_ohm: 1500, channel: 1}
            """;

    @TempDir
    Path folder;

    Bench bench;

    @BeforeEach
    void plantTakes() throws IOException {
        bench = new Bench(folder).audio("take-1.wav", "take-2.wav", "stimulus.wav");
    }
}
