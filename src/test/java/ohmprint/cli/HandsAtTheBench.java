package ohmprint.cli;

import java.io.BufferedReader;
import java.io.PrintWriter;
import java.io.Reader;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import ohmprint.app.record.DeviceList;
import ohmprint.app.record.Recording;
import ohmprint.loopback.SoundlessBench;
import org.junit.jupiter.api.io.TempDir;

/** The command line beside a bench that exists only in numbers: answers that also fit loads, and what is printed. */
abstract class HandsAtTheBench {
    static final String[] NEW = {
        "--label",
        "Bench coil 4",
        "--rated",
        "200",
        "--input",
        "3000",
        "--loads",
        "150,1500",
        "--seconds",
        "1",
        "--level",
        "-18",
        "--lead",
        "0.6",
        "--tail",
        "0.4"
    };

    @TempDir
    Path dir;

    final SoundlessBench bench = new SoundlessBench();
    String stdout = "";
    String stderr = "";

    /** Standard input whose lines do something at the bench before they are read. */
    final class Hands extends Reader {
        private final Deque<String> lines = new ArrayDeque<>();
        private String rest = "";

        Hands(String... answers) {
            lines.addAll(List.of(answers));
        }

        @Override
        public int read(char[] into, int offset, int count) {
            if (rest.isEmpty()) {
                String line = lines.poll();
                if (line == null) {
                    return -1;
                }
                if (line.startsWith("@")) {
                    bench.ohm = line.equals("@open") ? Double.POSITIVE_INFINITY : Double.parseDouble(line.substring(1));
                    line = "";
                }
                rest = line + "\n";
            }
            int n = Math.min(count, rest.length());
            rest.getChars(0, n, into, offset);
            rest = rest.substring(n);
            return n;
        }

        @Override
        public void close() {}
    }

    /** Answers in order; {@code @150} fits that load and presses Enter. */
    int run(String[] args, String... answers) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        List<Command> commands = List.of(
                new RecordCommand(
                        (request, listener) -> Recording.open(request, bench, listener),
                        () -> new BufferedReader(new Hands(answers), 1)),
                new DevicesCommand((words, progress) -> DeviceList.of(words.orElse(null), bench, progress)));
        Environment around = new Environment(dir, false, 80, false, "0.0.7");
        int code = new Shell(commands, new Console(around, new PrintWriter(out), new PrintWriter(err))).run(args);
        stdout = out.toString();
        stderr = err.toString();
        return code;
    }

    String[] record(String... options) {
        String[] all = new String[options.length + 2];
        all[0] = "record";
        all[1] = dir.resolve("session").toString();
        System.arraycopy(options, 0, all, 2, options.length);
        return all;
    }

    static String[] with(String[] options, String... more) {
        String[] all = java.util.Arrays.copyOf(options, options.length + more.length);
        System.arraycopy(more, 0, all, options.length, more.length);
        return all;
    }
}
