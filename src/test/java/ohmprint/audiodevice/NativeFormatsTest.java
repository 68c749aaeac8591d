package ohmprint.audiodevice;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import ohmprint.audiodevice.SoundSystem.DeviceFormat;
import ohmprint.audiodevice.SoundSystem.Direction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Formats as the system tells them. */
class NativeFormatsTest {
    /** Printed by pactl 16.1 of Debian 12 against a server with these modules. */
    private static final List<String> SOURCES = List.of(
            "0\tspeaker.monitor\tmodule-pipe-sink.c\ts32le 2ch 48000Hz\tIDLE",
            "1\tmic\tmodule-pipe-source.c\ts24le 18ch 96000Hz\tRUNNING");

    @Test
    void theServersListIsRead() {
        assertThat(NativeFormats.inList(SOURCES, "mic")).contains(new DeviceFormat("mic", 96_000, 18));
        assertThat(NativeFormats.inList(SOURCES, "speaker")).isEmpty();
    }

    /** The layout of a running stream's file, from memory; a stream that is not open says "closed". */
    @Test
    void theKernelsFileIsRead(@TempDir Path cards) throws Exception {
        Path stream = Files.createDirectories(cards.resolve("card1/pcm0c/sub0"));
        Files.writeString(
                stream.resolve("hw_params"),
                "access: MMAP_INTERLEAVED\nformat: S32_LE\nsubformat: STD\nchannels: 8\nrate: 44100 (44100/1)\n"
                        + "period_size: 1024\nbuffer_size: 4096\n");
        assertThat(NativeFormats.ofKernel(cards, 1, 0, Direction.RECORDING))
                .contains(new DeviceFormat("hw:1,0", 44_100, 8));
        assertThat(NativeFormats.ofKernel(cards, 1, 0, Direction.PLAYBACK)).isEmpty();
        Files.writeString(stream.resolve("hw_params"), "closed\n");
        assertThat(NativeFormats.ofKernel(cards, 1, 0, Direction.RECORDING)).isEmpty();
    }
}
