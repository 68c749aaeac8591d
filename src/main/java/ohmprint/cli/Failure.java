package ohmprint.cli;

import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.NoSuchFileException;

/** What to tell a user whose command did not come to an end. */
final class Failure {
    private Failure() {}

    /** One line on a file that could not be read or written. */
    static String ofFile(Exception e) {
        if (e instanceof FileSystemException f && f.getFile() != null) {
            String reason = f.getReason();
            String why = e instanceof AccessDeniedException
                    ? "permission denied; change its permissions or choose another folder with --out"
                    : e instanceof NoSuchFileException
                            ? "there is no such file or folder; correct the path"
                            : (reason == null ? e.getClass().getSimpleName() : reason)
                                    + "; check the path and the space left on the disk";
            return OneLine.of(f.getFile() + ": " + why);
        }
        String message = e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
        return OneLine.of("a file could not be read or written: " + message
                + "; check the disk and the permissions of the folder");
    }

    /** Two lines on a fault of the program: what it was, and how to report it. */
    static String ofProgram(Throwable e, String version) {
        if (e instanceof OutOfMemoryError) {
            return "memory ran out; give Java more, for example OHMPRINT_JAVA_OPTS=-Xmx4g scripts/ohmprint ...";
        }
        return OneLine.of("internal error: " + e + place(e)) + System.lineSeparator()
                + "This is a fault of ohmprint " + version
                + ", not of your takes. Please report it with the line above and"
                + " the command you gave; with OHMPRINT_DEBUG=1 it tells more.";
    }

    private static String place(Throwable e) {
        for (StackTraceElement frame : e.getStackTrace()) {
            if (frame.getClassName().startsWith("ohmprint.")) {
                return " (" + frame.getFileName() + ":" + frame.getLineNumber() + ")";
            }
        }
        return "";
    }
}
