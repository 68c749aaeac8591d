package ohmprint.app.record;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import ohmprint.audiofile.WavEncoding;
import ohmprint.audiofile.WavReader;
import ohmprint.audiofile.WavWriter;
import ohmprint.files.AtomicFile;
import ohmprint.files.Leftovers;
import ohmprint.session.Session;

/** Files of takes in a session's folder: their names, and what becomes of those that were broken off. */
public final class SessionFolder {
    private static final String UNFINISHED = ".unfinished.wav";

    /** The file of a level check; it is no take and does not stay. */
    static final String TRIAL = "level-check" + UNFINISHED;

    private static final String REPEATED = "repeated";
    private static final String UNUSABLE = "unusable";
    private static final Pattern TAKE = Pattern.compile("take-(\\d+)\\.wav");
    private static final Pattern UNFINISHED_TAKE = Pattern.compile("take-(\\d+)" + Pattern.quote(UNFINISHED));
    private static final Pattern ASIDE = Pattern.compile("take-\\d+\\.(" + REPEATED + "|" + UNUSABLE + ")-\\d+\\.wav");
    private static final int CHUNK = 1 << 14;

    private final Path folder;

    SessionFolder(Path folder) {
        this.folder = folder;
    }

    /** The lowest number that no take, of the manifest or of the folder, has. */
    int nextNumber(Session session) {
        int n = 1;
        while (used(session, name(n)) || Files.exists(folder.resolve(unfinished(n)))) {
            n++;
        }
        return n;
    }

    private boolean used(Session session, String name) {
        return Files.exists(folder.resolve(name))
                || session.takes().stream().anyMatch(t -> t.file().equals(name));
    }

    static String name(int number) {
        return "take-" + number + ".wav";
    }

    static String unfinished(int number) {
        return unfinished(name(number));
    }

    /** Name that a take has until it is kept under its own. */
    public static String unfinished(String name) {
        return name.replaceFirst("\\.wav$", UNFINISHED);
    }

    /** Whether a recording of this name is still being made, waits for a verdict, or was broken off. */
    public static boolean isUnfinished(String name) {
        return name.endsWith(UNFINISHED);
    }

    /** Whether a file of this name was put aside. */
    public static boolean isPutAside(String name) {
        return ASIDE.matcher(name).matches();
    }

    /** Puts aside what there is of a take that was broken off; returns a word about it when there is anything. */
    Optional<String> breakOff(int number) throws IOException {
        return Files.exists(folder.resolve(unfinished(number)))
                ? Optional.of("what was recorded of it is kept as " + putAside(number, UNUSABLE) + " and not used")
                : Optional.empty();
    }

    /** Puts a take aside that is to be recorded again; returns the name that it gets. */
    String repeat(int number) throws IOException {
        return putAside(number, REPEATED);
    }

    /** Puts a file aside under the first free name {@code take-N.WORD-M.wav}; returns that name. */
    private String putAside(int number, String word) throws IOException {
        Path file = folder.resolve(unfinished(number));
        for (int m = 1; ; m++) {
            String name = "take-" + number + "." + word + "-" + m + ".wav";
            try {
                AtomicFile.place(file, folder.resolve(name));
                return name;
            } catch (FileAlreadyExistsException e) {
                // The name is taken: the next number.
            }
        }
    }

    /** Gives an unfinished take its name, on the disk for good. */
    void keep(int number) throws IOException {
        Path from = folder.resolve(unfinished(number));
        Path to = folder.resolve(name(number));
        // A manifest that could not be written may be tried again when the file has its name already.
        if (Files.exists(from)) {
            try (FileChannel file = FileChannel.open(from, StandardOpenOption.WRITE)) {
                file.force(true);
            }
            AtomicFile.place(from, to);
        }
    }

    /** Puts aside what an earlier run left unfinished; returns a word about each, and about takes without an entry. */
    List<String> tidy(Session session) throws IOException {
        List<String> notes = new ArrayList<>();
        Files.deleteIfExists(folder.resolve(TRIAL));
        Leftovers.tidy(folder);
        List<String> names;
        try (Stream<Path> files = Files.list(folder)) {
            names = files.map(f -> String.valueOf(f.getFileName())).sorted().toList();
        }
        for (String name : names) {
            Matcher unfinished = UNFINISHED_TAKE.matcher(name);
            if (unfinished.matches()) {
                double seconds = seconds(folder.resolve(name));
                repair(folder.resolve(name));
                String aside = putAside(Integer.parseInt(unfinished.group(1)), UNUSABLE);
                notes.add(String.format(
                        Locale.ROOT,
                        "an unfinished take of %.1f s was found; it is kept as %s and not used",
                        seconds,
                        aside));
            } else if (TAKE.matcher(name).matches()
                    && session.takes().stream().noneMatch(t -> t.file().equals(name))) {
                notes.add(name + " is in the folder but not in the manifest; it is not used");
            }
        }
        return notes;
    }

    /** Seconds of a file, whether or not it was brought to its end; 0 when nothing in it can be read. */
    private static double seconds(Path file) {
        try (WavReader reader = WavReader.openTruncated(file)) {
            return reader.frames() / reader.sampleRate();
        } catch (IOException e) {
            return 0;
        }
    }

    /** Gives a file whose length was left open its length; one that cannot be rewritten stays as it is. */
    private static void repair(Path file) {
        try (WavReader reader = WavReader.openTruncated(file)) {
            int rate = (int) reader.sampleRate();
            AtomicFile.<IOException>replace(file, part -> {
                try (WavWriter writer = WavWriter.create(part, reader.channels(), rate, WavEncoding.PCM_24)) {
                    double[][] chunk = new double[reader.channels()][CHUNK];
                    for (int n; (n = reader.read(chunk, 0, CHUNK)) > 0; ) {
                        writer.write(chunk, 0, n);
                    }
                }
            });
        } catch (IOException e) {
            // A full disk, or a file with nothing in it: as it is, it can still be read.
            return;
        }
    }
}
