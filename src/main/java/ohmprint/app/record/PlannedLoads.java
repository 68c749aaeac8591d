package ohmprint.app.record;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.circuit.Load;

/** The loads of a session that are to be recorded, as {@code recording.json} in its folder holds them. */
public final class PlannedLoads {
    private PlannedLoads() {}

    /**
     * The planned loads in order, ohms, infinite for none; a repeated one is there twice.
     *
     * @return nothing when nothing is planned
     * @throws BadInputException if the file cannot be understood
     */
    public static List<Double> read(Path folder) throws IOException, BadInputException {
        List<Load> loads = SetupFile.loads(folder);
        return loads == null ? List.of() : loads.stream().map(Load::ohm).toList();
    }

    /**
     * Plans the loads of a session that has not been recorded yet.
     *
     * @throws BadInputException if there are not two different ones, or one cannot be a resistor
     */
    public static void write(Path folder, RecordRequest.Loads loads) throws IOException, BadInputException {
        SetupFile.writeLoads(folder, Opening.planned(loads));
    }

    /**
     * Refuses loads that cannot be planned.
     *
     * @throws BadInputException if there are not two different ones, or one cannot be a resistor
     */
    public static void check(RecordRequest.Loads loads) throws BadInputException {
        Opening.planned(loads);
    }
}
