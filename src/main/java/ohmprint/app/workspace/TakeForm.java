package ohmprint.app.workspace;

import java.time.OffsetDateTime;
import java.time.format.DateTimeParseException;
import ohmprint.app.BadInputException;
import ohmprint.circuit.Load;
import ohmprint.session.Assumed;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/**
 * A take of a session as it is filled in.
 *
 * @param file its recording
 * @param loadOhm the load resistor, or none
 * @param loadTolerancePercent its tolerance in percent; null for the usual one, and for a measured load; where
 *     given, the load counts as stated
 * @param loadUncertaintyOhm standard uncertainty of a measured load in ohms, or null
 * @param channel channel of the microphone, from 1; null for the first
 * @param referenceChannel channel that hears the sound but not the load, or null
 * @param time when it was recorded, ISO 8601 with offset, or null
 * @param note free text, or null
 */
public record TakeForm(
        @Nullable String file,
        @Nullable Ohms loadOhm,
        @Nullable Double loadTolerancePercent,
        @Nullable Double loadUncertaintyOhm,
        @Nullable Integer channel,
        @Nullable Integer referenceChannel,
        @Nullable String time,
        @Nullable String note) {
    static TakeForm of(Take take) {
        Load load = take.load();
        boolean stated = !load.isOpen() && !load.isMeasured();
        return new TakeForm(
                take.file(),
                new Ohms(load.ohm()),
                stated ? (Double) load.tolerancePercent() : null,
                load.isMeasured() ? (Double) load.standardUncertaintyOhm() : null,
                take.channel(),
                take.referenceChannel(),
                take.time() == null ? null : take.time().toString(),
                take.note());
    }

    /** The take. */
    Take take() throws BadInputException {
        if (file == null || file.isBlank()) {
            throw new BadInputException("a take has no file; name a recording of the session");
        }
        return new Take(
                file,
                load(file),
                channel == null ? 1 : channel,
                referenceChannel,
                note == null || note.isBlank() ? null : note.strip(),
                time(file));
    }

    private Load load(String take) throws BadInputException {
        if (loadOhm == null || loadOhm.isUnknown()) {
            throw new BadInputException(take + " has no load; give the resistor in ohms, or open for none");
        }
        try {
            if (loadOhm.isOpen()) {
                return Load.open();
            }
            return loadUncertaintyOhm != null && loadTolerancePercent == null
                    ? Load.measured(loadOhm.value(), loadUncertaintyOhm)
                    : Load.ofOhms(
                            loadOhm.value(),
                            loadTolerancePercent == null ? Assumed.LOAD_TOLERANCE_PERCENT : loadTolerancePercent);
        } catch (IllegalArgumentException e) {
            throw new BadInputException(take + ": " + e.getMessage(), e);
        }
    }

    private @Nullable OffsetDateTime time(String take) throws BadInputException {
        if (time == null || time.isBlank()) {
            return null;
        }
        try {
            return OffsetDateTime.parse(time);
        } catch (DateTimeParseException e) {
            throw new BadInputException(
                    take + " has the time '" + time + "'; write date, time and offset like 2031-05-04T16:20:00+02:00",
                    e);
        }
    }
}
