package ohmprint.manifest;

/**
 * One thing that is wrong with a manifest or a file it names.
 *
 * @param file name of the file that has to be corrected
 * @param line line in it, from 1; 0 when it concerns the whole file
 * @param message what is wrong and what to do
 */
public record ManifestProblem(String file, int line, String message) {
    /** One line: {@code session.yaml:7: takes[1].load_ohm is 0 Ω; …}. */
    @Override
    public String toString() {
        return line > 0 ? file + ":" + line + ": " + message : file + ": " + message;
    }
}
