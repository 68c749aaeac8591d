package ohmprint.app.workspace;

import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.record.RecordRequest;
import ohmprint.session.Assumed;
import org.jspecify.annotations.Nullable;

/**
 * Loads that are to be recorded, as they are filled in.
 *
 * @param ohm resistors in the order of the takes
 * @param tolerancePercent tolerance of all of them in percent, or null for the usual one
 * @param repeatFirst whether the first comes once more at the end; null for yes
 */
public record LoadsForm(
        @Nullable List<Ohms> ohm,
        @Nullable Double tolerancePercent,
        @Nullable Boolean repeatFirst) {
    /** The loads. */
    RecordRequest.Loads loads() throws BadInputException {
        if (ohm == null || ohm.stream().anyMatch(o -> o == null || o.isUnknown())) {
            throw new BadInputException("the loads are not all stated; give each in ohms, or open for none");
        }
        return new RecordRequest.Loads(
                ohm.stream().map(Ohms::value).toList(),
                tolerancePercent == null ? Assumed.LOAD_TOLERANCE_PERCENT : tolerancePercent,
                repeatFirst == null || repeatFirst);
    }
}
