package ohmprint.app.record;

import java.util.Arrays;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** Why the recorder put a take aside; the word stands in the name of its file, {@code take-N.WORD-M.wav}. */
public enum PutAside {
    /** It was to be recorded again. */
    REPEATED,

    /** Its recording did not come to its end. */
    UNUSABLE;

    private static final Pattern NAME = Pattern.compile(Arrays.stream(values())
            .map(PutAside::word)
            .collect(Collectors.joining("|", "take-\\d+\\.(", ")-\\d+\\.wav")));

    String word() {
        return this == REPEATED ? "repeated" : "unusable";
    }

    /** Whether a file of this name was put aside. */
    public static boolean names(String file) {
        return NAME.matcher(file).matches();
    }
}
