package ohmprint.cli;

import java.io.PrintWriter;

/** Entry point of the command line. */
public final class Main {
    private Main() {}

    /**
     * Runs one command and ends the process with its exit code.
     *
     * @param args the command and its options
     */
    public static void main(String[] args) {
        PrintWriter out = StandardStreams.out();
        PrintWriter err = StandardStreams.err();
        int code = run(args, out, err);
        out.flush();
        err.flush();
        System.exit(code);
    }

    /**
     * Runs one command.
     *
     * @param args the command and its options
     * @param out takes the results
     * @param err takes findings, progress and what went wrong
     * @return the exit code: 0 done, 1 a bug, 2 bad input or usage, 3 the evidence does not support a curve
     */
    public static int run(String[] args, PrintWriter out, PrintWriter err) {
        return new Shell(Commands.of(args), new Console(Environment.ofThisProcess(), out, err)).run(args);
    }
}
