package ohmprint.golden;

import java.nio.file.Path;

/** The parts into which the stored outputs are sorted. */
enum GoldenPart {
    /** Result files of the sessions of the fixtures. */
    RESULTS("results", GoldenResults::write),
    /** GoldenCommands, their help, and usual mistakes. */
    COMMANDS("commands", GoldenCommands::write),
    /** GoldenAddresses of the page. */
    PAGE("page", GoldenAddresses::write),
    /** The sheet that is handed over. */
    SHEETS("sheets", GoldenSheets::write),
    /** What a recording tells, step by step. */
    RECORDINGS("recordings", GoldenRecordings::write),
    /** A library and what its commands do to it. */
    LIBRARY("library", GoldenLibraries::write);

    private static final Path WORK = Path.of("target/golden-work");

    private final String folder;
    private final Writing writing;

    GoldenPart(String folder, Writing writing) {
        this.folder = folder;
        this.writing = writing;
    }

    /** Puts out what belongs to a part. */
    @FunctionalInterface
    interface Writing {
        /**
         * Does so.
         *
         * @param outputs takes it in
         * @param work an empty folder for files
         */
        void write(GoldenOutputs outputs, Path work) throws Exception;
    }

    /** The name of its folder. */
    String folder() {
        return folder;
    }

    /** Runs the program and returns what it put out. */
    GoldenOutputs outputs() throws Exception {
        GoldenOutputs out = new GoldenOutputs(folder, new Placeholders());
        // The path is relative and always the same, so that messages with it are.
        writing.write(out, GoldenOutputs.emptied(WORK.resolve(folder)));
        return out;
    }
}
