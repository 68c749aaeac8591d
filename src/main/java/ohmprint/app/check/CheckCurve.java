package ohmprint.app.check;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.app.measure.ConsistencyWords;
import ohmprint.app.measure.ResultFolder;
import ohmprint.chart.ChartTheme;
import ohmprint.chart.ImpedanceChart;
import ohmprint.conformity.Decision;
import ohmprint.conformity.FaultPatterns;
import ohmprint.conformity.FaultPatterns.PossibleCause;
import ohmprint.conformity.Specification;
import ohmprint.conformity.Verdict;
import ohmprint.exchange.SpecificationYaml;
import ohmprint.exchange.VerdictJson;
import ohmprint.impedance.Consistency;
import ohmprint.impedance.Measurement;
import ohmprint.yaml.ManifestException;
import ohmprint.yaml.ManifestText;

/** Checks a curve against a specification. */
public final class CheckCurve {
    /** Names of the files that a check writes. */
    private static final List<String> FILES = List.of("check.json", "check.svg", "check.png");

    private CheckCurve() {}

    /**
     * Reads, decides, and writes verdict and pictures if a folder is named.
     *
     * @throws BadInputException if the curve or the specification cannot be used, or the folder holds other things
     * @throws IOException if a file cannot be read or written
     */
    public static CheckOutcome run(CheckRequest request) throws BadInputException, IOException {
        Path out = request.out();
        ResultFolder folder = out == null ? null : ResultFolder.at(out, Set.copyOf(FILES), "a check");
        Specification specification = specification(request.specification());
        Measurement measurement = NamedCurve.of(request.curve()).measurement();
        CheckOutcome outcome = decide(measurement, specification);
        if (out == null || folder == null) {
            return outcome;
        }
        ImpedanceChart chart = ImpedanceChart.checked(measurement, specification, outcome.decided(), ChartTheme.LIGHT);
        Map<String, byte[]> files = new LinkedHashMap<>();
        files.put(FILES.get(1), ResultFolder.utf8(chart.svg()));
        files.put(FILES.get(2), chart.png());
        files.put(FILES.get(0), ResultFolder.utf8(outcome.json() + "\n"));
        folder.write(files);
        return new CheckOutcome(
                measurement, specification, outcome.decided(), outcome.causes(), outcome.json(), out, FILES);
    }

    /** The decision on a measurement that is at hand; nothing is written. */
    public static CheckOutcome decide(Measurement measurement, Specification specification) {
        Verdict verdict = withConsistency(Decision.of(specification, measurement), measurement);
        List<PossibleCause> causes = FaultPatterns.of(specification, measurement, verdict);
        return new CheckOutcome(
                measurement,
                specification,
                verdict,
                causes,
                VerdictJson.write(specification, measurement, verdict, causes),
                null,
                List.of());
    }

    /** A decision on takes that are not known to agree says so. */
    private static Verdict withConsistency(Verdict verdict, Measurement measurement) {
        Consistency consistency = measurement.curve().consistency();
        if (consistency == null || ConsistencyWords.agree(consistency)) {
            return verdict;
        }
        List<String> notes = new ArrayList<>(verdict.notes());
        notes.addAll(ConsistencyWords.of(consistency));
        return new Verdict(verdict.conformity(), verdict.requirements(), verdict.reasons(), notes);
    }

    /**
     * Reads a specification; curves that it names are looked for beside it.
     *
     * @throws BadInputException with everything that is wrong with it
     */
    public static Specification specification(Path file) throws BadInputException {
        String name = String.valueOf(file.getFileName());
        if (!Files.isRegularFile(file)) {
            throw new BadInputException(
                    file + " is not there or is a folder; give the YAML file of a specification with --spec");
        }
        try {
            return SpecificationYaml.read(ManifestText.read(file, name), name, named -> beside(file, named));
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private static Measurement beside(Path specification, String named) throws IOException {
        try {
            Path file = specification.resolveSibling(named);
            return NamedCurve.of(file.toString()).measurement();
        } catch (BadInputException | InvalidPathException e) {
            throw new IOException(e.getMessage(), e);
        }
    }
}
