package ohmprint.app.measure;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;

/** Writes results again and again, also as a process of its own, so that it can be killed or held short of space. */
final class ResultWriter {
    /** Exit code when the results could not be written. */
    static final int FAILED = 17;

    /** In the order of writing: the one that tells of the others comes last. */
    static final List<String> NAMES =
            List.of("curve.csv", "curve.s1p", "curve.svg", "curve.png", "lines.svg", "curve.json");

    private ResultWriter() {}

    /**
     * Writes.
     *
     * @param args target folder, bytes of each file, how many times
     */
    public static void main(String[] args) {
        Path target = Path.of(args[0]);
        int bytes = Integer.parseInt(args[1]);
        long times = Long.parseLong(args[2]);
        try {
            for (long round = 0; round < times; round++) {
                write(target, files(round, bytes));
                System.out.println(round);
            }
        } catch (IOException | BadInputException e) {
            System.err.println(e.getMessage());
            System.exit(FAILED);
        }
    }

    /** Writes files as the result of a measurement. */
    static void write(Path target, Map<String, byte[]> files) throws IOException, BadInputException {
        ResultFiles.folder(target).write(files);
    }

    /** The command that runs it; without the file that the virtual machine shares, which a size limit would forbid. */
    static List<String> command(Path target, int bytes, long times) {
        return List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:-UsePerfData",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                ResultWriter.class.getName(),
                target.toString(),
                String.valueOf(bytes),
                String.valueOf(times));
    }

    /** Files that tell of which round they are, in every byte. */
    static Map<String, byte[]> files(long round, int bytes) {
        Map<String, byte[]> files = new LinkedHashMap<>();
        for (String name : NAMES) {
            byte[] content = new byte[bytes];
            Arrays.fill(content, (byte) ('a' + round % 26));
            files.put(name, content);
        }
        return files;
    }

    /** True when a folder holds all files, of equal size and of one round, and nothing else. */
    static boolean whole(Path folder) throws IOException {
        if (!Files.isDirectory(folder)) {
            return false;
        }
        try (Stream<Path> entries = Files.list(folder)) {
            List<Path> files = entries.sorted().toList();
            byte[] first = files.isEmpty() ? new byte[0] : Files.readAllBytes(files.get(0));
            boolean alike = first.length > 0;
            for (Path file : files) {
                byte[] content = Files.readAllBytes(file);
                alike &= Arrays.equals(content, first) && content[content.length - 1] == content[0];
            }
            return alike
                    && files.stream()
                            .map(p -> p.getFileName().toString())
                            .toList()
                            .equals(NAMES.stream().sorted().toList());
        }
    }
}
