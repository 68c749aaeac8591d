package ohmprint.cli;

import java.nio.file.Path;
import ohmprint.loopback.SoundlessBench;

/** What {@code record} and {@code devices} say beside a bench that exists only in numbers, for tests elsewhere. */
public final class BenchDialogue extends HandsAtTheBench {
    /** What was said, and how it ended. */
    public record Said(int code, String stdout, String stderr) {}

    /** A dialogue whose session is the folder {@code session} of this one. */
    public BenchDialogue(Path folder) {
        dir = folder;
    }

    /** The bench, for faults. */
    public SoundlessBench bench() {
        return bench;
    }

    /** Runs {@code record} for a new session with a coil of 200 Ω; answers are those of {@link HandsAtTheBench#run}. */
    public Said newSession(String[] more, String... answers) {
        return said(record(with(NEW, more)), answers);
    }

    /** Runs {@code record} with no more than these options. */
    public Said session(String[] options, String... answers) {
        return said(record(options), answers);
    }

    /** Runs {@code devices}. */
    public Said devices(String... options) {
        String[] all = new String[options.length + 1];
        all[0] = "devices";
        System.arraycopy(options, 0, all, 1, options.length);
        return said(all);
    }

    private Said said(String[] args, String... answers) {
        int code = run(args, answers);
        return new Said(code, stdout, stderr);
    }
}
