package ohmprint.exchange;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Set;
import java.util.function.Function;
import ohmprint.impedance.Permitted;
import org.jspecify.annotations.Nullable;

/** An object inside a JSON file together with where it stands, read key by key with errors that say where. */
record JsonPlace(JsonNode node, String place) {
    /** The largest number of any unit: the square of the largest ohms, as a variance has them. */
    private static final double LARGEST = Permitted.CURVE_OHM.most() * Permitted.CURVE_OHM.most();

    /** Checks that this is an object with exactly these keys. */
    JsonPlace withKeys(String... keys) throws ExchangeException {
        if (!node.isObject()) {
            throw wrong("an object");
        }
        Set<String> known = Set.of(keys);
        for (Iterator<String> names = node.fieldNames(); names.hasNext(); ) {
            String key = names.next();
            if (!known.contains(key)) {
                throw new ExchangeException(place + ": the key \"" + key + "\" is not known; remove it");
            }
        }
        for (String key : keys) {
            at(key);
        }
        return this;
    }

    /** The entry under a key, which must be there (null counts as there). */
    JsonPlace at(String key) throws ExchangeException {
        JsonNode child = node.get(key);
        if (child == null) {
            throw new ExchangeException(place + ": the key \"" + key + "\" is missing; write it, with null if unknown");
        }
        return new JsonPlace(child, place + "." + key);
    }

    /** Whether there is such a key, which files of an earlier program may lack. */
    boolean has(String key) {
        return node.has(key);
    }

    /** This place, after a check that it is an object with the keys and perhaps one or more of the later ones. */
    JsonPlace withKeys(List<String> later, String... keys) throws ExchangeException {
        List<String> present = new ArrayList<>(List.of(keys));
        later.stream().filter(this::has).forEach(present::add);
        return withKeys(present.toArray(String[]::new));
    }

    /** A list of as many numbers under a key, NaN for null. */
    double[] numbers(String key, int count) throws ExchangeException {
        JsonPlace list = at(key);
        if (!list.node.isArray() || list.node.size() != count) {
            throw list.wrong("a list of " + count + " numbers");
        }
        double[] out = new double[count];
        for (int i = 0; i < count; i++) {
            JsonNode entry = list.node.get(i);
            if (!entry.isNull() && !entry.isNumber()) {
                throw new JsonPlace(entry, list.place + "[" + i + "]").wrong("a number or null");
            }
            out[i] = entry.isNull() ? Double.NaN : entry.doubleValue();
        }
        return out;
    }

    /** The entries of a list under a key. */
    List<JsonPlace> list(String key) throws ExchangeException {
        JsonPlace list = at(key);
        if (!list.node.isArray()) {
            throw list.wrong("a list");
        }
        List<JsonPlace> entries = new ArrayList<>();
        for (int i = 0; i < list.node.size(); i++) {
            entries.add(new JsonPlace(list.node.get(i), list.place + "[" + i + "]"));
        }
        return entries;
    }

    /** True where the file holds null. */
    boolean isNull() {
        return node.isNull();
    }

    /** A text under a key. */
    String text(String key) throws ExchangeException {
        JsonPlace child = at(key);
        if (!child.node.isTextual()) {
            throw child.wrong("a text");
        }
        return child.node.textValue();
    }

    /**
     * What a word under a key stands for.
     *
     * @param all what there is
     * @param name the word for each
     */
    <T> T word(String key, T[] all, Function<T, String> name) throws ExchangeException {
        String word = text(key);
        return Arrays.stream(all)
                .filter(one -> name.apply(one).equals(word))
                .findFirst()
                .orElseThrow(() -> ExchangeException.unknown(
                        place + "." + key, word, Arrays.stream(all).map(name)));
    }

    /** A text under a key, or null. */
    @Nullable
    String textOrNull(String key) throws ExchangeException {
        return at(key).isNull() ? null : text(key);
    }

    /** A number under a key, NaN for null. */
    double number(String key) throws ExchangeException {
        JsonPlace child = at(key);
        if (child.isNull()) {
            return Double.NaN;
        }
        if (!child.node.isNumber() || !Double.isFinite(child.node.doubleValue())) {
            throw child.wrong("a number or null");
        }
        double value = child.node.doubleValue();
        if (Math.abs(value) > LARGEST) {
            throw child.wrong("a number of at most " + LARGEST);
        }
        return value;
    }

    /** Ohms of a curve under a key, of any sign and small as they may be; NaN for null. */
    double ohms(String key) throws ExchangeException {
        double value = number(key);
        if (Math.abs(value) > Permitted.CURVE_OHM.most()) {
            throw at(key).wrong("from 0 to " + Permitted.CURVE_OHM.most() + " Ω in size");
        }
        return value;
    }

    /** A magnitude of a curve under a key, in ohms; NaN for null. */
    double magnitude(String key) throws ExchangeException {
        double value = number(key);
        if (!Double.isNaN(value) && !(value > 0 && Permitted.CURVE_OHM.holds(value))) {
            throw at(key).wrong("from " + Permitted.CURVE_OHM.words());
        }
        return value;
    }

    /** A frequency under a key, in hertz. */
    double hertz(String key) throws ExchangeException {
        double value = requiredNumber(key);
        if (!(value > 0 && Permitted.HERTZ.holds(value))) {
            throw at(key).wrong("from " + Permitted.HERTZ.words());
        }
        return value;
    }

    /** A number under a key that must not be null. */
    double requiredNumber(String key) throws ExchangeException {
        double value = number(key);
        if (Double.isNaN(value)) {
            throw at(key).wrong("a number");
        }
        return value;
    }

    /** A whole number under a key. */
    int integer(String key) throws ExchangeException {
        JsonPlace child = at(key);
        if (!child.node.isInt()) {
            throw child.wrong("a whole number");
        }
        return child.node.intValue();
    }

    /** True or false under a key. */
    boolean flag(String key) throws ExchangeException {
        JsonPlace child = at(key);
        if (!child.node.isBoolean()) {
            throw child.wrong("true or false");
        }
        return child.node.booleanValue();
    }

    private ExchangeException wrong(String wanted) {
        return new ExchangeException(place + ": should be " + wanted + ", not " + excerpt() + "; correct this entry");
    }

    private String excerpt() {
        String text = node.toString();
        return text.length() > 40 ? text.substring(0, 40) + "…" : text;
    }
}
