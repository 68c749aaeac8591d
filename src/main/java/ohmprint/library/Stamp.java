package ohmprint.library;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/** Times as they stand in the tables: {@code 2026-01-31T12:00:00.000Z}, whose order as text is that in time. */
final class Stamp {
    private static final DateTimeFormatter FORM = DateTimeFormatter.ofPattern(
                    "uuuu-MM-dd'T'HH:mm:ss.SSS'Z'", Locale.ROOT)
            .withZone(ZoneOffset.UTC);

    private Stamp() {}

    static String of(Instant time) {
        return FORM.format(time);
    }

    static String now() {
        return of(Instant.now());
    }
}
