package ohmprint.app.workspace;

import java.util.List;
import java.util.Map;
import ohmprint.app.BadInputException;
import ohmprint.app.handover.HandOverRequest;
import ohmprint.app.match.MatchRequest;
import org.jspecify.annotations.Nullable;

/**
 * What sheet is wanted, by the names and values of an address.
 *
 * @param values what was asked; a key that is absent does not matter
 */
public record ReportForm(Map<String, String> values) {
    private static final double MOST_MV = 10_000;
    private static final double MOST_DB = 200;

    /** Copies the map. */
    public ReportForm {
        values = Map.copyOf(values);
    }

    /**
     * A sheet.
     *
     * @param name name for its file
     * @param mediaType what it is, as in HTTP
     * @param bytes the file
     */
    public record Sheet(String name, String mediaType, byte[] bytes) {}

    String curve() throws BadInputException {
        String given = one("curve");
        if (given == null) {
            throw new BadInputException("no curve is named for the report; name one as session:NAME or library:ID");
        }
        return given;
    }

    HandOverRequest.Form form() throws BadInputException {
        String given = one("form");
        for (HandOverRequest.Form form : HandOverRequest.Form.values()) {
            if (given == null || form.word().equals(given)) {
                return form;
            }
        }
        throw new BadInputException("a report as '" + given + "' is not made here; choose pdf or html");
    }

    String paper() throws BadInputException {
        String given = one("paper");
        List<String> papers = HandOverRequest.PAPERS;
        if (given != null && !papers.contains(given)) {
            throw new BadInputException(
                    "paper of the size '" + given + "' is not known; choose " + String.join(" or ", papers));
        }
        return given == null ? papers.get(0) : given;
    }

    MatchRequest.@Nullable Sound sound() throws BadInputException {
        Double mv = number("sensitivity_mv", "mV/Pa", MOST_MV);
        Double db = number("spl_db", "dB", MOST_DB);
        if (mv == null) {
            if (db != null) {
                throw new BadInputException(
                        "spl_db is given without sensitivity_mv; give the sensitivity in mV/Pa as well");
            }
            return null;
        }
        if (mv == 0) {
            throw new BadInputException("the sensitivity is 0 mV/Pa; give a number above 0, such as 1.5");
        }
        return HandOverRequest.sound(mv, db);
    }

    @Nullable
    String specification() {
        return one("specification");
    }

    @Nullable
    String compared() {
        return one("compared");
    }

    private @Nullable Double number(String key, String unit, double most) throws BadInputException {
        String given = one(key);
        if (given == null) {
            return null;
        }
        try {
            double value = Double.parseDouble(given);
            if (value >= 0 && value <= most) {
                return value;
            }
        } catch (NumberFormatException e) {
            throw new BadInputException(key + " is '" + given + "', no number; give it in " + unit, e);
        }
        throw new BadInputException(key + " is " + given + " " + unit + "; give 0 to " + (int) most + " " + unit);
    }

    private @Nullable String one(String key) {
        String given = values.get(key);
        return given == null || given.isBlank() ? null : given.strip();
    }
}
