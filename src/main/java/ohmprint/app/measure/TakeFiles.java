package ohmprint.app.measure;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import ohmprint.session.AudioProbe;
import ohmprint.session.AudioProbe.AudioShape;
import ohmprint.signal.SampleSource;
import ohmprint.wav.AudioFiles;
import ohmprint.wav.AudioFormatException;

/** What a session needs to know of its audio files: their shape and their fingerprint. */
public final class TakeFiles {
    private static final int BUFFER = 1 << 16;

    private TakeFiles() {}

    /** Shape of audio files by their headers. */
    public static AudioProbe probe() {
        return file -> {
            try (SampleSource source = AudioFiles.open(file)) {
                return new AudioShape(source.channels(), source.sampleRate(), source.frames());
            } catch (AudioFormatException e) {
                throw new IOException(withoutName(e), e);
            }
        };
    }

    private static String withoutName(AudioFormatException e) {
        String message = String.valueOf(e.getMessage());
        String name = e.file() + ": ";
        return message.startsWith(name) ? message.substring(name.length()) : message;
    }

    /** SHA-256 of a file, 64 lower-case hexadecimal digits. */
    static String sha256(Path file) throws IOException {
        try (InputStream in = Files.newInputStream(file)) {
            MessageDigest digest = MessageDigest.getInstance("SHA-256");
            byte[] buffer = new byte[(int) Math.min(BUFFER, Math.max(1, Files.size(file)))];
            for (int n; (n = in.read(buffer)) > 0; ) {
                digest.update(buffer, 0, n);
            }
            return HexFormat.of().formatHex(digest.digest());
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
