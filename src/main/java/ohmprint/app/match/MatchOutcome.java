package ohmprint.app.match;

import java.nio.file.Path;
import java.util.List;
import ohmprint.impedance.Finding;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.PredictedValue;
import org.jspecify.annotations.Nullable;

/**
 * What came out.
 *
 * @param curve where the curve was found
 * @param measurement the curve
 * @param request what was asked
 * @param coverage what is known within the range
 * @param tenTimes ten times the greatest |Z|, ohms, and where
 * @param leastForLoss least resistance for a loss of 1 dB
 * @param leastForTilt least resistance for a tilt of 0.5 dB
 * @param inputs the inputs in the order in which they were given, then the boosters
 * @param chains each booster with each input behind it, for level and noise; none when these were not asked for
 * @param family a variable resistance behind the same line
 * @param findings what to be careful of
 * @param notes what to know when reading the numbers
 * @param folder where files were written, or null
 * @param files their names
 */
public record MatchOutcome(
        String curve,
        Measurement measurement,
        MatchRequest request,
        Matching.Coverage coverage,
        PredictedValue tenTimes,
        Matching.LeastResistance leastForLoss,
        Matching.LeastResistance leastForTilt,
        List<LoadPrediction> inputs,
        List<LoadPrediction> chains,
        List<LoadPrediction> family,
        List<Finding> findings,
        List<String> notes,
        @Nullable Path folder,
        List<String> files) {
    /** Copies the lists. */
    public MatchOutcome {
        inputs = List.copyOf(inputs);
        chains = List.copyOf(chains);
        family = List.copyOf(family);
        findings = List.copyOf(findings);
        notes = List.copyOf(notes);
        files = List.copyOf(files);
    }

    /** The same with the files that were written. */
    MatchOutcome withFiles(List<String> written) {
        return new MatchOutcome(
                curve,
                measurement,
                request,
                coverage,
                tenTimes,
                leastForLoss,
                leastForTilt,
                inputs,
                chains,
                family,
                findings,
                notes,
                folder,
                written);
    }
}
