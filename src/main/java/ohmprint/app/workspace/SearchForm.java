package ohmprint.app.workspace;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.format.DateTimeParseException;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import ohmprint.app.BadInputException;
import ohmprint.library.Filter;
import org.jspecify.annotations.Nullable;

/**
 * Which measurements of the library are wanted, by the names and values of an address.
 *
 * @param values what was asked; a key that is absent does not matter
 */
public record SearchForm(Map<String, String> values) {
    private static final int USUAL = 50;
    private static final int MOST = 1000;

    /** Copies the map. */
    public SearchForm {
        values = Map.copyOf(values);
    }

    Filter query() throws BadInputException {
        String text = one("text");
        List<String> words = text == null
                ? List.of()
                : Arrays.stream(text.strip().split("\\s+")).toList();
        return new Filter(
                words,
                one("maker"),
                one("model"),
                one("serial"),
                one("transducer"),
                one("operator"),
                one("route"),
                one("verdict"),
                day("since"),
                day("until"),
                "true".equals(one("superseded")));
    }

    int limit() throws BadInputException {
        String given = one("limit");
        if (given == null) {
            return USUAL;
        }
        try {
            int limit = Integer.parseInt(given);
            if (limit >= 1 && limit <= MOST) {
                return limit;
            }
        } catch (NumberFormatException e) {
            throw new BadInputException("limit is '" + given + "', no number of measurements; give 1 to " + MOST, e);
        }
        throw new BadInputException("limit is " + given + " measurements; give 1 to " + MOST);
    }

    private @Nullable String one(String key) {
        String given = values.get(key);
        return given == null || given.isBlank() ? null : given.strip();
    }

    /** The first moment of a day, UTC as on the command line. */
    private @Nullable Instant day(String key) throws BadInputException {
        String given = one(key);
        try {
            return given == null
                    ? null
                    : LocalDate.parse(given).atStartOfDay(ZoneOffset.UTC).toInstant();
        } catch (DateTimeParseException e) {
            throw new BadInputException("'" + given + "' is no day to search " + key + "; give it as in 2026-03-01", e);
        }
    }
}
