package ohmprint.audiofile;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.ByteBuffer;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Files beyond 4 GiB, nearly all of which is a hole that takes no room on the disc. */
class LargeFileTest {
    @TempDir
    Path folder = Path.of(".");

    @Test
    void samplesFarBeyondFourGibibytesAreFound() throws IOException {
        long frames = 1_500_000_000L;
        Path file = folder.resolve("take-1.wav");
        WavBytes head = new WavBytes("RF64").ds64(frames * 6, "", 0).extensible(1, 2, 96000, 24, 24);
        byte[] start = head.raw("data\377\377\377\377".getBytes("ISO-8859-1")).bytes();
        try (RandomAccessFile out = new RandomAccessFile(file.toFile(), "rw")) {
            out.write(start);
            out.seek(start.length + (frames - 2) * 6);
            out.write(new byte[] {1, 2, 3, 0, 0, -128, 4, 5, 6, -1, -1, -1});
        }
        try (WavReader reader = WavReader.open(file)) {
            assertThat(reader.frames()).isEqualTo(frames);
            assertThat(reader.skip(frames - 3)).isEqualTo(frames - 3);
            double[][] got = new double[2][5];
            assertThat(reader.read(got, 0, 5)).isEqualTo(3);
            assertThat(got[0]).containsExactly(0, 0x030201 / 8388608.0, 0x060504 / 8388608.0, 0, 0);
            assertThat(got[1]).containsExactly(0, -1, -1 / 8388608.0, 0, 0);
        }
    }

    @Test
    void theLastLengthThatFitsIsRiffAndTheNextIsRf64() {
        WavWriter.WavHeader header = new WavWriter.WavHeader(1, 96000, WavEncoding.PCM_16);
        long limit = 0xFFFF_FFFEL;
        long most = (limit + 8 - header.size()) / 2;
        ByteBuffer fits = header.of(most, limit);
        assertThat(FileBytes.id(fits, 0)).isEqualTo("RIFF");
        assertThat(fits.getInt(header.size() - 4) & 0xFFFF_FFFFL).isEqualTo(most * 2);
        ByteBuffer beyond = header.of(most + 1, limit);
        assertThat(FileBytes.id(beyond, 0)).isEqualTo("RF64");
        assertThat(beyond.getInt(header.size() - 4)).isEqualTo(-1);
        assertThat(beyond.getLong(28)).isEqualTo((most + 1) * 2);
    }
}
