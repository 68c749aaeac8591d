package ohmprint.app.record;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.circuit.Load;
import org.jspecify.annotations.Nullable;

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
        SetupFile.writeLoads(folder, of(loads));
    }

    /**
     * Refuses loads that cannot be planned.
     *
     * @throws BadInputException if there are not two different ones, or one cannot be a resistor
     */
    public static void check(RecordRequest.Loads loads) throws BadInputException {
        of(loads);
    }

    /**
     * The loads in order, the first once more at the end if wanted.
     *
     * @throws BadInputException if there are not two different ones, or one cannot be a resistor
     */
    static List<Load> of(RecordRequest.@Nullable Loads wanted) throws BadInputException {
        if (wanted == null || wanted.ohms().stream().distinct().count() < 2) {
            throw new BadInputException(
                    "a session needs two or more different loads; give them in the order of the takes,"
                            + " for example 150 and 1500 Ω");
        }
        List<Load> loads = new ArrayList<>();
        try {
            for (double ohm : wanted.ohms()) {
                loads.add(Double.isInfinite(ohm) ? Load.open() : Load.ofOhms(ohm, wanted.tolerancePercent()));
            }
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
        if (wanted.repeatFirst()
                && loads.get(loads.size() - 1).ohm() != loads.get(0).ohm()) {
            loads.add(loads.get(0));
        }
        return loads;
    }
}
