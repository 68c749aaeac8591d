package ohmprint.session;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.IOException;
import ohmprint.session.AudioProbe.AudioShape;
import ohmprint.yaml.ManifestException;
import ohmprint.yaml.ManifestException.Problem;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Wrong values in a manifest, and files that do not fit it, named with line and remedy. */
class SessionProblemsTest extends GoodManifest {
    /** Replaces the first text by the second in a good manifest; the only problem must be this one. */
    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            load_ohm: 1500   | load_ohm: 0         | 9: takes[1].load_ohm is 0 Ω; give a number above 0 Ω, or open
            load_ohm: 1500   | load_ohm: -150      | 9: takes[1].load_ohm is -150 Ω; give a number above 0 Ω, or open
            load_ohm: 1500   | load_ohm: 1k5       | 9: takes[1].load_ohm is '1k5'; give a plain number in Ω, such as 1500 or 99.8, without unit or separators, or open
            load_ohm: 1500   | load_ohm: "1500"    | 9: takes[1].load_ohm is '1500'; give a plain number in Ω
            load_ohm: 1500   | load_ohm: .nan      | 9: takes[1].load_ohm is '.nan'; give a plain number in Ω
            load_ohm: 1500   | load_ohm: 1e999     | 9: takes[1].load_ohm is 1e999, too large
            load_ohm: 1500   | load_ohm: 01500     | 9: takes[1].load_ohm is 01500, which can be read in two ways with its leading zero; give a plain number
            load_ohm: 1500   | load_ohm: [1500]    | 9: takes[1].load_ohm is a list; give a number of Ω, or open
            load_ohm: 1500   | load_ohm:           | 9: takes[1].load_ohm is empty; give a number of Ω, or open, or delete the key
            load_ohm: 1500,  |                     | 9: takes[1].load_ohm is missing; give the resistor in ohms, or open
            channel: 1       | channel: 0          | 9: takes[1].channel is 0; channels count 1, 2, 3
            channel: 1       | channel: 1.5        | 9: takes[1].channel is 1.5; channels count 1, 2, 3
            channel: 1       | channel: left       | 9: takes[1].channel is 'left'; channels count 1, 2, 3
            channel: 1       | channel: 3          | 9: takes[1].channel is 3, but take-2.wav has only 2 channels; correct the number
            channel: 1       | reference_channel: 7 | 9: takes[1].reference_channel is 7, but take-2.wav has only 2 channels
            channel: 1       | reference_channel: 1 | 9: takes[1].reference_channel is 1, the channel of the microphone itself
            channel: 1       | load_tolerance_percent: 100 | 9: takes[1].load_tolerance_percent is 100 %; give a number from 0 % to below 100 %
            channel: 1       | load_u_ohm: -1      | 9: takes[1].load_u_ohm is -1 Ω; give a number from 0 Ω
            load_ohm: 1500   | load_ohm: 1e-308    | 9: takes[1].load_ohm is 1e-308 Ω; give a number from 0.001 to 1000000000 Ω, or open
            load_ohm: 1500   | load_ohm: 1e300     | 9: takes[1].load_ohm is 1e300 Ω; give a number from 0.001 to 1000000000 Ω, or open
            channel: 1       | load_tolerance_percent: 1e-306 | 9: takes[1].load_tolerance_percent is 1e-306 %; give a number from 0.000001 to 10000 %, or 0
            channel: 1       | load_u_ohm: 1e-306  | 9: takes[1].load_u_ohm is 1e-306 Ω; give a number from 0.000000001 to 1000000000 Ω, or 0
            resistance_ohm: 3000 | resistance_ohm: 1e-308 | 5: input.resistance_ohm is 1e-308 Ω; give a number from 0.001 to 1000000000 Ω, or unknown
            capacitance_pf: 470 | capacitance_pf: 1e300 | 5: input.capacitance_pf is 1e300 pF; give a number from 0.001 to 1000000 pF, or 0
            transducer: ribbon | rated_impedance_ohm: 1e-308 | 4: microphone.rated_impedance_ohm is 1e-308 Ω; give a number from 0.001 to 1000000000 Ω
            channel: 1       | load_u_ohm: 1500    | 9: takes[1].load_u_ohm is 1500 Ω, not below load_ohm
            channel: 1       | load_u_ohm: 1, load_tolerance_percent: 1 | 9: takes[1].load_u_ohm is given beside load_tolerance_percent; keep one of the two
            channel: 1       | time: yesterday     | 9: takes[1].time is 'yesterday'; write date, time and offset like 2031-05-04T16:20:00+02:00
            channel: 1       | chanel: 1           | 9: takes[1].chanel is not a known key; did you mean channel?
            channel: 1       | polarity: 1         | 9: takes[1].polarity is not a known key; known here: file, load_ohm
            channel: 1       | load_ohm: 1000      | 9: takes[1].load_ohm is given again, first on line 9; keep one of the two
            file: take-2.wav | file: take-9.wav    | 9: takes[1].file is take-9.wav, which is not in the folder of this manifest; correct the name, or put it there
            file: take-2.wav | file: a\\b.wav      | 9: takes[1].file is a\\b.wav, which is not in the folder of this manifest; write / between folder and file
            file: take-2.wav | file: ../take-2.wav | 9: takes[1].file is ../take-2.wav, outside the folder of this manifest; copy the file into the folder
            file: take-2.wav | file: x/../../y.wav | 9: takes[1].file is x/../../y.wav, outside the folder of this manifest
            file: take-2.wav | file: /etc/hosts    | 9: takes[1].file is /etc/hosts, outside the folder of this manifest
            file: take-2.wav | file: .             | 9: takes[1].file is ., which is a folder; name a file in it
            file: take-2.wav | file: "\\0"         | 9: takes[1].file is ' ', which cannot be a file name
            file: take-2.wav | file: take-1.wav    | 9: takes[1].file is take-1.wav, channel 1, which is used already on line 8; name another recording
            file: take-2.wav | file: session.yaml  | 9: takes[1].file is session.yaml, which cannot be read as audio (no RIFF header); export it again as WAV
            label: Bench ribbon 7 | label:         | 3: microphone.label is empty; give text, or delete the key
            label: Bench ribbon 7 | label: [a, b]  | 3: microphone.label is a list; give text
            label: Bench ribbon 7 | maker: Elm     | 2: microphone.label is missing; give what the bench calls this microphone
            transducer: ribbon | transducer: Ribbon | 4: microphone.transducer is 'Ribbon'; write one of moving-coil, ribbon, condenser, other
            transducer: ribbon | rated_impedance_ohm: 0 | 4: microphone.rated_impedance_ohm is 0 Ω; give a number above 0 Ω
            resistance_ohm: 3000 | resistance_ohm: 0 | 5: input.resistance_ohm is 0 Ω; give a number above 0 Ω, or unknown
            resistance_ohm: 3000, | | 5: input.resistance_ohm is missing; give it in ohms, or write resistance_ohm: unknown
            capacitance_pf: 470 | capacitance_pf: -1 | 5: input.capacitance_pf is -1 pF; give a number from 0 pF
            capacitance_pf: 470 | resistance_tolerance_percent: -5 | 5: input.resistance_tolerance_percent is -5 %; give a number from 0 % to below 100 %
            capacitance_pf: 470 | add_phantom_feeds: yes | 5: input.add_phantom_feeds is 'yes'; write one of true, false
            resistance_ohm: 3000 | resistance_ohm: unknown, add_phantom_feeds: true | 5: input.add_phantom_feeds is true, which has no meaning for an unknown resistance
            kind: sweep      | kind: sweeps        | 6: stimulus.kind is 'sweeps'; write one of sweep, noise
            file: stimulus.wav | file: other.wav   | 6: stimulus.file is other.wav, which is not in the folder of this manifest
            version: 1       | version: 2          | 1: version is 2, but this program reads version 1; use the program that wrote the file
            version: 1       | operator: R. Quill  | 1: version is missing; add the line version: 1
            version: 1       | 'version: 1, x'     | 1: version is '1, x', but this program reads version 1
            """)
    void wrongValueIsNamedWithItsLineAndRemedy(String good, String bad, String problem) throws IOException {
        assertThat(GOOD).contains(good);
        String problems = bench.problems(GOOD.replace(good, bad == null ? "" : bad));
        assertThat(problems).startsWith("session.yaml:" + problem);
        assertThat(problems.lines()).hasSize(1);
    }

    @Test
    void missingInputAsksForItOrForUnknown() throws IOException {
        String problems = bench.problems(GOOD.replaceAll("(?m)^input.*\n", ""));
        assertThat(problems)
                .isEqualTo(
                        "session.yaml:1: input is missing; state the input impedance of the recording input, such as "
                                + "input: {resistance_ohm: 3000}, or write input: {resistance_ohm: unknown}");
    }

    @Test
    void inputThatIsNotAMappingIsTold() throws IOException {
        assertThat(bench.problems(GOOD.replaceAll("(?m)^input.*", "input: unknown")))
                .isEqualTo("session.yaml:5: input is 'unknown'; write below it lines of the form key: value, such as "
                        + "resistance_ohm: …");
    }

    @Test
    void oneTakeIsNotEnough() throws IOException {
        assertThat(bench.problems(GOOD.replaceAll("(?m)^  - \\{file: take-2.*\n", "")))
                .isEqualTo("session.yaml:8: takes holds one take; two or more with different loads are needed, "
                        + "record another");
    }

    @Test
    void oneLoadIsNotEnoughHoweverOftenItIsRepeated() throws IOException {
        assertThat(bench.problems(GOOD.replace("1500", "150.0")))
                .isEqualTo("session.yaml:9: takes[1].load_ohm is 150 Ω like all other loads; a repeated load tells "
                        + "nothing of the source impedance, record a take with another load");
        assertThat(bench.problems(GOOD.replaceAll("load_ohm: \\d+", "load_ohm: open")))
                .startsWith("session.yaml:9: takes[1].load_ohm is open like all other loads");
    }

    @Test
    void mixedSampleRatesNameBothFilesAndRates() throws IOException {
        bench.audio("take-2.wav", new AudioShape(1, 44_100, 1000));
        assertThat(bench.problems(GOOD))
                .isEqualTo("session.yaml:9: takes[1].file is take-2.wav with 44100 Hz, but take-1.wav has 48000 Hz; "
                        + "record all files of a session with one sample rate");
    }

    @Test
    void stimulusHasTheSampleRateOfTheTakes() throws IOException {
        bench.audio("stimulus.wav", new AudioShape(1, 96_000, 1000));
        assertThat(bench.problems(GOOD))
                .startsWith("session.yaml:6: stimulus.file is stimulus.wav with 96000 Hz, but take-1.wav has 48000 Hz");
    }

    @Test
    void takeWithoutSoundIsTold() throws IOException {
        bench.audio("take-1.wav", new AudioShape(2, 48_000, 0));
        assertThat(bench.problems(GOOD))
                .isEqualTo("session.yaml:8: takes[0].file is take-1.wav, which holds no sound; record it again");
    }

    @Test
    void allProblemsAreReportedTogetherInTheOrderOfLines() throws IOException {
        String bad = GOOD.replace("150}", "0}")
                .replace("label", "lable")
                .replace("take-2.wav", "gone.wav")
                .replace("3000", "3 kΩ");
        ManifestException thrown = catchThrowableOfType(
                ManifestException.class, () -> bench.manifest(bad).read());
        assertThat(thrown.problems()).extracting(Problem::line).containsExactly(2, 3, 5, 8, 9);
        assertThat(thrown.getMessage().lines()).hasSize(5).allMatch(line -> line.startsWith("session.yaml:"));
    }

    @Test
    void curveBesideAStatedResistanceIsRefused() throws IOException {
        bench.file("in.csv", "frequency_hz,resistance_ohm,reactance_ohm\n20,1000,0\n20000,900,-10\n");
        assertThat(bench.problems(GOOD.replace("capacitance_pf: 470", "curve: in.csv")))
                .isEqualTo("session.yaml:5: input.resistance_ohm is given beside a curve, which replaces it; keep one "
                        + "of the two");
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            frequency_hz,resistance_ohm;20,1000           | in.csv:1: has no column reactance_ohm
            frequency_hz,resistance_ohm,reactance_ohm;20,1000,0 | in.csv: holds 1 usable points
            frequency_hz,resistance_ohm,reactance_ohm;20,1000,0;10,1000,0 | in.csv:3: frequency_hz is 10.0 after 20.0
            frequency_hz,resistance_ohm,reactance_ohm;20,1000,0;30,1k,0 | in.csv:3: resistance_ohm is '1k'; give a plain number
            frequency_hz,resistance_ohm,reactance_ohm;20,1000,0;30,1000 | in.csv:3: has 2 fields, the first line 3
            frequency_hz,resistance_ohm,reactance_ohm;20,1000,0;30,0,0 | in.csv:3: an impedance of 0.0 Ω
            """)
    void wrongInputCurveIsNamedWithItsOwnLine(String csv, String problem) throws IOException {
        bench.file("in.csv", csv.replace(";", "\n") + "\n");
        assertThat(bench.problems(GOOD.replaceAll("(?m)^input.*", "input: {curve: in.csv}")))
                .startsWith(problem);
    }
}
