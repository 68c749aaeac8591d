package ohmprint.cli;

/** Entry point of the command line. */
public final class Main {
    private Main() {}

    /**
     * Runs one command.
     *
     * @param args the command and its options
     */
    public static void main(String[] args) {
        System.exit(0);
    }
}
