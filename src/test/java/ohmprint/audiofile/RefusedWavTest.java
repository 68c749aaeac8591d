package ohmprint.audiofile;

import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Files that are refused, with the reason and what to do. */
class RefusedWavTest extends WrittenHeaders {
    @Test
    void aSecondRunOfSamplesIsRefused() throws IOException {
        refused(
                stereo16()
                        .chunk("data", THREE)
                        .chunk("LIST", new byte[4])
                        .chunk("data", THREE)
                        .bytes(),
                "second data chunk at byte 68",
                "byte 36",
                "single run");
    }

    @ParameterizedTest
    @CsvSource({
        "7, 8, µ-law, 0x0007",
        "6, 8, A-law, 0x0006",
        "2, 4, ADPCM, 0x0002",
        "17, 4, IMA ADPCM, 0x0011",
        "85, 0, MPEG layer 3, 0x0055",
        "4660, 16, unknown, 0x1234"
    })
    void compressedSamplesAreRefusedByName(int tag, int bits, String name, String hex) throws IOException {
        refused(
                WavBytes.riff().fmt(tag, 1, 8000, 1, bits).chunk("data", THREE).bytes(),
                name + " samples",
                hex,
                "export it as WAV");
        refused(
                WavBytes.riff()
                        .extensible(tag, 1, 8000, 8, 8)
                        .chunk("data", THREE)
                        .bytes(),
                name + " samples",
                hex);
    }

    @Test
    void formsThatAreNotWavAreRefusedByName() throws IOException {
        refused(new WavBytes("RIFX").fmt(1, 1, 8000, 1, 8).bytes(), "big-endian RIFF (RIFX)", "export it");
        refused("RIFF\4\0\0\0AVI ".getBytes("US-ASCII"), "not one that holds WAVE");
        refused("RIFF".getBytes("US-ASCII"), "only 4 bytes long");
        refused("not sound at all".getBytes("US-ASCII"), "not a RIFF file");
    }

    @Test
    void headersThatContradictThemselvesAreRefused() throws IOException {
        refused(WavBytes.riff().chunk("data", THREE).bytes(), "no fmt chunk");
        refused(stereo16().bytes(), "no data chunk");
        refused(stereo16().fmt(1, 2, 48000, 4, 16).chunk("data", THREE).bytes(), "two fmt chunks");
        refused(WavBytes.riff().chunk("fmt ", new byte[14]).bytes(), "fmt chunk of 14 bytes");
        refused(WavBytes.riff().fmt(1, 0, 48000, 4, 16).bytes(), "0 channels");
        refused(WavBytes.riff().fmt(1, 2, 0, 4, 16).bytes(), "0 Hz");
        refused(WavBytes.riff().fmt(1, 2, 48000, 3, 16).bytes(), "3 bytes per frame", "need 4");
        refused(WavBytes.riff().fmt(1, 256, 48000, 4, 16).bytes(), "256 channels", "need 512");
        refused(WavBytes.riff().fmt(1, 257, 48000, 514, 16).bytes(), "257 channels", "1 to 256");
        refused(WavBytes.riff().fmt(1, 1, 3999, 2, 16).bytes(), "3999 Hz", "4000 to 1000000 Hz");
        refused(WavBytes.riff().fmt(1, 1, 1_000_001, 2, 16).bytes(), "1000001 Hz", "4000 to 1000000 Hz");
        refused(WavBytes.riff().fmt(1, 1, -1, 2, 16).bytes(), "4294967295 Hz");
        refused(WavBytes.riff().fmt(1, 1, 48000, 8, 64).bytes(), "integer samples of 64 bits");
        refused(WavBytes.riff().fmt(3, 1, 48000, 2, 16).bytes(), "float samples of 16 bits");
        refused(WavBytes.riff().extensible(1, 1, 48000, 16, 24).bytes(), "24 valid bits in samples of 16");
        refused(stereo16().raw(new byte[40]).bytes(), "no chunk at byte 36");
        refused(stereo16().chunkOf("bext", 5000, new byte[100]).bytes(), "inside its bext chunk", "5000", "100");
        byte[] empties = new byte[8 * 70_000];
        for (int i = 0; i < empties.length; i += 8) {
            System.arraycopy(new byte[] {'J', 'U', 'N', 'K'}, 0, empties, i, 4);
        }
        refused(stereo16().raw(empties).bytes(), "more than 65536 chunks");
    }

    @Test
    void aMissingFileAndAFolderAreNamed() {
        assertThatThrownBy(() -> WavReader.open(folder.resolve("take-9.wav")))
                .isInstanceOf(AudioFormatException.class)
                .hasMessageContainingAll("take-9.wav", "does not exist", "check the name");
        assertThatThrownBy(() -> WavReader.open(folder))
                .isInstanceOf(AudioFormatException.class)
                .hasMessageContaining("is a folder");
    }
}
