package ohmprint.loopback;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import ohmprint.NeedsPackage;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Isolated;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Sound lines against a real sound server. */
@org.junit.jupiter.api.Tag("sound")
@Isolated("a computer busy with other tests loses pieces of the sound")
@NeedsPackage({"pulseaudio", "pulseaudio-utils", "libasound2-plugins"})
@Tag("sound")
class SoundServerTest {
    @TempDir
    Path dir;

    @ParameterizedTest
    @ValueSource(ints = {48_000, 96_000})
    void twentyFourBitsComeBackUnchanged(int rate) throws Exception {
        try (SoundServer server = SoundServer.loop(dir.resolve("server"), rate, 2);
                Program loopback =
                        Program.start("ohmprint.loopback.Loopback", server.environment(), dir, "" + rate, "1.5")) {
            JsonNode found = loopback.event("loopback");
            assertThat(found.path("changed").asInt()).as(found.toString()).isZero();
            assertThat(found.path("bits").asInt()).isEqualTo(24);
            assertThat(found.path("samples").asInt()).isEqualTo(3 * rate / 2);
        }
    }

    /** The server changes its own rate to that of a stream where it can, which is then no conversion. */
    @Test
    void devicesTellsTheRateOfTheServerAndThatOthersAreConverted() throws Exception {
        try (SoundServer server = SoundServer.loop(dir.resolve("server"), 48_000, 1);
                Program devices = Program.ohmprint(server.environment(), dir, "devices", "--json")) {
            JsonNode list = devices.event();
            assertThat(devices.ended()).as(devices.errors()).isZero();
            for (String key : new String[] {"inputs", "outputs"}) {
                JsonNode formats = list.path("devices").path(0).path(key);
                assertThat(formats).hasSize(5).allSatisfy(f -> {
                    boolean own = f.path("sample_rate_hz").asInt()
                            == f.path("own_rate_hz").asInt();
                    assertThat(f.path("verdict").asText()).isEqualTo(own ? "verified" : "converted");
                    assertThat(f.path("usable").asBoolean()).isEqualTo(own);
                    assertThat(f.path("channels").asInt()).isEqualTo(1);
                    assertThat(f.path("bits").asInt()).isEqualTo(24);
                });
                assertThat(formats.path(1).path("verdict").asText()).isEqualTo("verified");
                assertThat(formats.path(3).path("verdict").asText()).isEqualTo("converted");
            }
        }
    }

    @Test
    void aRateThatTheServerWouldConvertIsRefusedBeforeAnythingIsWritten() throws Exception {
        try (SoundServer server = SoundServer.loop(dir.resolve("server"), 48_000, 2);
                Program record = recording(server.environment(), "--rate", "96000")) {
            assertThat(record.ended()).isEqualTo(2);
            assertThat(record.errors())
                    .contains(
                            "loop.monitor does not run at 96000 Hz but at 48000 Hz, and the sound server would convert")
                    .contains("record with --rate 48000");
            assertThat(dir.resolve("session")).doesNotExist();
        }
    }

    @Test
    void withoutASoundSystemTheWayOutIsTold() throws Exception {
        org.junit.jupiter.api.Assumptions.assumeFalse(
                Files.exists(Path.of("/proc/asound/cards"))
                        && !Files.readString(Path.of("/proc/asound/cards")).contains("no soundcards"),
                "this computer has a sound card");
        Map<String, String> nowhere =
                Map.of("PULSE_SERVER", "unix:" + dir.resolve("nobody"), "PULSE_RUNTIME_PATH", dir.toString());
        try (Program record = recording(nowhere);
                Program devices = Program.ohmprint(nowhere, dir, "devices")) {
            for (Program program : new Program[] {record, devices}) {
                assertThat(program.ended()).isEqualTo(2);
                assertThat(program.errors())
                        .contains("this computer shows no sound device")
                        .contains(
                                "record the takes with any recorder instead, then write session.yaml and use measure");
            }
            assertThat(dir.resolve("session")).doesNotExist();
        }
    }

    private Program recording(Map<String, String> environment, String... more) throws Exception {
        String[] all = java.util.stream.Stream.concat(
                        java.util.stream.Stream.of(
                                "record", "session", "--yes", "--label", "x", "--input", "3000", "--loads", "150,1500"),
                        java.util.stream.Stream.of(more))
                .toArray(String[]::new);
        return Program.ohmprint(environment, dir, all);
    }
}
