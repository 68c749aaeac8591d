package ohmprint.app.workspace;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import ohmprint.app.BadInputException;
import org.jspecify.annotations.Nullable;

/**
 * What is asked by the names and values of an address. A value that is blank counts as not given; a key that nobody asks for
 * does not matter.
 *
 * @param values values by their names
 */
public record Query(Map<String, String> values) {
    /** Copies the map. */
    public Query {
        values = Map.copyOf(values);
    }

    /** A value, or null. */
    public @Nullable String text(String key) {
        return filled(values.get(key));
    }

    /** A text as somebody fills it in without the space around it; null for none and for a blank one. */
    static @Nullable String filled(@Nullable String given) {
        return given == null || given.isBlank() ? null : given.strip();
    }

    /** A value that has to be there, as it stands. */
    public String wanted(String key) throws BadInputException {
        String value = values.get(key);
        if (value == null || value.isEmpty()) {
            throw new BadInputException("the address has no " + key + "; add ?" + key + "=…");
        }
        return value;
    }

    /** The parts of a value that has to be there, between its commas; blank ones are left out. */
    public List<String> list(String key) throws BadInputException {
        return Arrays.stream(wanted(key).split(",", -1))
                .filter(part -> !part.isBlank())
                .toList();
    }

    /** Whether a value is {@code true}. */
    public boolean isTrue(String key) {
        return "true".equals(values.get(key));
    }

    /** A number, or what it is where none is given. */
    public double number(String key, double otherwise) throws BadInputException {
        String text = values.get(key);
        if (text == null || text.isEmpty()) {
            return otherwise;
        }
        try {
            return Double.parseDouble(text);
        } catch (NumberFormatException e) {
            throw new BadInputException(key + " is '" + text + "'; give a plain number", e);
        }
    }
}
