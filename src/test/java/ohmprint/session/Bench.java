package ohmprint.session;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import ohmprint.session.AudioProbe.AudioShape;
import ohmprint.yaml.ManifestException;

/** A session folder in which tests plant manifests and files; audio files are empty, their shapes are told. */
final class Bench {
    static final AudioShape STEREO = new AudioShape(2, 48_000, 480_000);

    final Path folder;
    private final Map<String, AudioShape> shapes = new HashMap<>();

    Bench(Path folder) {
        this.folder = folder;
    }

    Bench audio(String... names) throws IOException {
        for (String name : names) {
            audio(name, STEREO);
        }
        return this;
    }

    Bench audio(String name, AudioShape shape) throws IOException {
        Path file = folder.resolve(name);
        Files.createDirectories(file.getParent());
        Files.write(file, new byte[0]);
        shapes.put(name, shape);
        return this;
    }

    Bench file(String name, String text) throws IOException {
        Files.writeString(folder.resolve(name), text);
        return this;
    }

    Bench manifest(String text) throws IOException {
        return manifest(text.getBytes(StandardCharsets.UTF_8));
    }

    Bench manifest(byte[] bytes) throws IOException {
        Files.write(folder.resolve(Session.MANIFEST), bytes);
        return this;
    }

    SessionReader reader() {
        return new SessionReader(file -> {
            AudioShape shape = shapes.get(folder.relativize(file).toString().replace('\\', '/'));
            if (shape == null) {
                throw new IOException("no RIFF header");
            }
            return shape;
        });
    }

    Session read() throws ManifestException {
        return reader().read(folder);
    }

    /** All problems of the manifest, one a line. */
    String problems() {
        ManifestException thrown = catchThrowableOfType(ManifestException.class, this::read);
        assertThat(thrown).as("the manifest is read without a problem").isNotNull();
        return thrown.getMessage();
    }

    /** All problems of this text. */
    String problems(String manifest) throws IOException {
        return manifest(manifest).problems();
    }
}
