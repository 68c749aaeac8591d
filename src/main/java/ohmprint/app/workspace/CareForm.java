package ohmprint.app.workspace;

import ohmprint.app.BadInputException;
import org.jspecify.annotations.Nullable;

/**
 * What a keeper says of a measurement: that another takes its place, that another was made after a repair, or that it goes.
 *
 * @param byId identifier of the measurement that takes its place, or null
 * @param afterId identifier of the measurement after the repair, or null
 * @param reason why, or null
 * @param note free text, or null
 * @param operator who says so; null for who usually works here
 */
public record CareForm(
        @Nullable String byId,
        @Nullable String afterId,
        @Nullable String reason,
        @Nullable String note,
        @Nullable String operator) {
    /**
     * Whether something new was noted.
     *
     * @param fresh false when it was known already
     * @param warning what speaks against it, or null
     */
    public record Noted(boolean fresh, @Nullable String warning) {}

    String newer() throws BadInputException {
        return stated(byId, "the identifier of the measurement that takes its place (by_id)");
    }

    String after() throws BadInputException {
        return stated(afterId, "the identifier of the measurement after the repair (after_id)");
    }

    String why() throws BadInputException {
        return stated(reason, "a reason, which stays in the record");
    }

    private static String stated(@Nullable String given, String what) throws BadInputException {
        if (given == null || given.isBlank()) {
            throw new BadInputException("something is missing: give " + what);
        }
        return given.strip();
    }
}
