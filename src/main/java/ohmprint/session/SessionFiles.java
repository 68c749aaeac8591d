package ohmprint.session;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import ohmprint.session.AudioProbe.AudioShape;
import ohmprint.text.Numbers;
import ohmprint.yaml.ManifestText;
import ohmprint.yaml.Problems;
import ohmprint.yaml.Section;
import org.jspecify.annotations.Nullable;

/** The files that a manifest names: that they lie in the folder, exist, and fit together. */
final class SessionFiles {
    private static final String FILE = "file";

    private final Path folder;
    private final AudioProbe probe;
    private final Map<Path, AudioShape> shapes = new HashMap<>();
    private @Nullable String firstName;
    private double firstRate;

    SessionFiles(Path folder, AudioProbe probe) {
        this.folder = folder;
        this.probe = probe;
    }

    void check(List<TakeList.Item> takes, SessionReader.@Nullable StimulusSection stimulus) {
        for (TakeList.Item t : takes) {
            AudioShape shape = shape(t.section(), t.take().file());
            if (shape != null) {
                channel(t, "channel", t.take().channel(), shape);
                Integer reference = t.take().referenceChannel();
                if (reference != null) {
                    channel(t, "reference_channel", reference, shape);
                }
            }
        }
        String played = stimulus == null ? null : stimulus.stimulus().file();
        if (stimulus != null && played != null) {
            shape(stimulus.section(), played);
        }
    }

    private static void channel(TakeList.Item take, String key, int channel, AudioShape shape) {
        if (channel > shape.channels()) {
            String has = shape.channels() == 1 ? "only 1 channel" : "only " + shape.channels() + " channels";
            take.section()
                    .report(
                            key,
                            "is " + channel + ", but "
                                    + Problems.shown(take.take().file()) + " has " + has + "; correct the number");
        }
    }

    /** The shape of a file after its sample rate and length were checked; null when the file cannot be used. */
    private @Nullable AudioShape shape(Section section, String name) {
        Path file = existing(section, FILE, name, folder);
        if (file == null) {
            return null;
        }
        String shown = Problems.shown(name);
        AudioShape shape = shapes.get(file);
        if (shape != null) {
            return shape;
        }
        try {
            shape = probe.shape(file);
        } catch (IOException e) {
            section.report(
                    FILE,
                    "is " + shown + ", which cannot be read as audio (" + ManifestText.reason(e)
                            + "); export it again as WAV");
            return null;
        }
        shapes.put(file, shape);
        if (shape.frames() <= 0) {
            section.report(FILE, "is " + shown + ", which holds no sound; record it again");
        }
        if (firstName == null) {
            firstName = shown;
            firstRate = shape.sampleRate();
        } else if (shape.sampleRate() != firstRate) {
            section.report(
                    FILE,
                    "is " + shown + " with " + Numbers.exact(shape.sampleRate()) + " Hz, but " + firstName + " has "
                            + Numbers.exact(firstRate) + " Hz; record all files of a session with one sample rate");
        }
        return shape;
    }

    /**
     * The existing file that a key names.
     *
     * @return null when there is none that may be used, which goes to the problems
     */
    static @Nullable Path existing(Section section, String key, String name, Path folder) {
        Path relative;
        try {
            relative = Path.of(name);
        } catch (InvalidPathException e) {
            section.report(key, "is '" + Problems.shown(name) + "', which cannot be a file name; correct it");
            return null;
        }
        String shown = "is " + Problems.shown(name);
        if (relative.isAbsolute() || relative.normalize().startsWith("..")) {
            section.report(
                    key,
                    shown
                            + ", outside the folder of this manifest; copy the file into the folder and give its name there");
            return null;
        }
        Path file = folder.resolve(relative);
        if (Files.isDirectory(file)) {
            section.report(key, shown + ", which is a folder; name a file in it");
            return null;
        }
        if (!Files.exists(file)) {
            String hint = name.contains("\\") ? "write / between folder and file" : "correct the name, or put it there";
            section.report(key, shown + ", which is not in the folder of this manifest; " + hint);
            return null;
        }
        if (!isItsNormalForm(file)) {
            section.report(
                    key,
                    shown + ", which leads through a link and back by '..' to another place; name the file itself");
            return null;
        }
        if (!Files.isReadable(file)) {
            section.report(key, shown + ", which may not be read; check its permissions");
            return null;
        }
        return file;
    }

    /** Behind a link, '..' leads to the folder above what the link points at, which the name does not show. */
    private static boolean isItsNormalForm(Path file) {
        Path normal = file.normalize();
        try {
            return normal.equals(file) || (Files.exists(normal) && Files.isSameFile(normal, file));
        } catch (IOException e) {
            return false;
        }
    }
}
