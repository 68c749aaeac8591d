package ohmprint.golden;

import java.nio.file.Path;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import java.util.Comparator;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;

/**
 * Puts placeholders in the place of what is of the moment. Times are replaced only when they lie within this run,
 * so that those of stored data stay; names that are drawn are replaced by what they are, word for word.
 */
final class Placeholders {
    // Java leaves the seconds of a time out when they are zero, and YAML then leaves out its quotation marks.
    private static final Pattern TIME =
            Pattern.compile("('?)(\\d{4}-\\d\\d-\\d\\dT\\d\\d:\\d\\d(:\\d\\d(\\.\\d{1,9})?)?(Z|[+-]\\d\\d:\\d\\d))\\1");
    private static final Pattern REVISION = Pattern.compile("(\"revision\" ?: ?)\\d{13}(?!\\d)");

    private final Instant since = Instant.now().truncatedTo(ChronoUnit.SECONDS);
    private final Map<String, String> words =
            new TreeMap<>(Comparator.comparingInt(String::length).reversed().thenComparing(Comparator.naturalOrder()));

    Placeholders() {
        word(Path.of("").toAbsolutePath().toString(), "<project>");
        // Who works here when nobody is named; elsewhere the same letters may be part of a word.
        String user = System.getenv().getOrDefault("OHMPRINT_OPERATOR", System.getProperty("user.name"));
        word("\"operator\":\"" + user + "\"", "\"operator\":\"<user>\"");
    }

    /** From now on a word gives way to a placeholder wherever it stands. */
    void word(String word, String placeholder) {
        words.put(word, placeholder);
    }

    /** A text with its placeholders. */
    String pinned(String text) {
        String out = text;
        for (Map.Entry<String, String> word : words.entrySet()) {
            out = out.replace(word.getKey(), word.getValue());
        }
        out = TIME.matcher(out).replaceAll(this::time);
        return REVISION.matcher(out).replaceAll("$1<revision>");
    }

    private String time(MatchResult found) {
        Instant time = OffsetDateTime.parse(found.group(2)).toInstant();
        return time.isBefore(since) || time.isAfter(Instant.now()) ? found.group() : "<now>";
    }
}
