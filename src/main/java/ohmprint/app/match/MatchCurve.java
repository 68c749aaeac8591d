package ohmprint.app.match;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.circuit.InputImpedance;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Usability;
import ohmprint.session.InputCurve;
import ohmprint.text.Numbers;
import ohmprint.yaml.ManifestException;

/** Matches a curve with inputs: loss, response change, least loads, level and noise, as a table and as pictures. */
public final class MatchCurve {
    /** The variable load in ohms. */
    static final List<Double> FAMILY_OHM =
            List.of(150.0, 300.0, 600.0, 1200.0, 2400.0, 5000.0, 10_000.0, 20_000.0, 40_000.0);

    private final MatchRequest request;
    private final NamedCurve curve;
    private final Matching matching;

    private MatchCurve(MatchRequest request, NamedCurve curve, Matching matching) {
        this.request = request;
        this.curve = curve;
        this.matching = matching;
    }

    /**
     * Matches.
     *
     * @throws BadInputException if curve, inputs or request cannot be worked with; nothing is written then
     * @throws IOException if a file cannot be read or written
     */
    public static MatchOutcome run(MatchRequest request) throws BadInputException, IOException {
        if (request.out() != null) {
            MatchFiles.folder(request.out());
        }
        return of(NamedCurve.of(request.curve()), request);
    }

    /** The same for a curve that was read. */
    public static MatchOutcome of(NamedCurve curve, MatchRequest request) throws BadInputException, IOException {
        Matching matching = Matching.of(
                curve.measurement().curve(), request.range(), request.line(), request.sound(), request.celsius());
        return new MatchCurve(request, curve, matching).match();
    }

    private MatchOutcome match() throws BadInputException, IOException {
        List<MatchInput> inputs = new ArrayList<>();
        List<MatchInput> boosters = new ArrayList<>();
        gather(inputs, boosters);
        List<LoadPrediction> predictions = new ArrayList<>();
        for (MatchInput input : inputs) {
            predictions.add(named(input, () -> matching.into(input)));
        }
        List<LoadPrediction> chains = new ArrayList<>();
        for (MatchInput booster : boosters) {
            predictions.add(named(booster, () -> matching.into(booster)));
            for (MatchInput input : request.sound() == null ? List.<MatchInput>of() : inputs) {
                chains.add(named(booster, () -> matching.into(booster, input)));
            }
        }
        List<LoadPrediction> family = new ArrayList<>();
        for (double ohm : FAMILY_OHM) {
            family.add(matching.into(new MatchRequest.Load(ohm, 0), request.preamplifier()));
        }
        MatchOutcome outcome = new MatchOutcome(
                curve.name(),
                curve.measurement(),
                request,
                matching.coverage(),
                matching.tenTimes(),
                matching.leastForLoss(),
                matching.leastForTilt(),
                predictions,
                chains,
                family,
                findings(predictions),
                notes(predictions, inputs, boosters),
                request.out(),
                List.of());
        return request.out() == null ? outcome : written(outcome, request.out());
    }

    private static MatchOutcome written(MatchOutcome outcome, Path folder) throws BadInputException, IOException {
        Map<String, byte[]> files = MatchFiles.of(outcome);
        MatchFiles.folder(folder).write(files);
        return outcome.withFiles(List.copyOf(files.keySet()));
    }

    /**
     * Files of measured curves that a file of inputs names; whether they are there is not looked at.
     *
     * @throws BadInputException if the file cannot be read as YAML
     */
    public static List<Path> curvesNamed(Path inputs) throws BadInputException {
        return InputsFile.curves(inputs);
    }

    /** The inputs of the request and of its file. */
    private void gather(List<MatchInput> inputs, List<MatchInput> boosters) throws BadInputException {
        boolean feeds = request.line().phantomFeeds();
        try {
            for (MatchRequest.Load load : request.loads()) {
                inputs.add(MatchInput.ofOhms(load.ohm(), load.pf(), feeds, request.preamplifier()));
            }
            for (Path file : request.inputCurves()) {
                if (!Files.isRegularFile(file)) {
                    throw new BadInputException(
                            "--input-curve " + file + " is not there; give the path of a measured input curve");
                }
                InputImpedance bare = InputCurve.read(file);
                inputs.add(new MatchInput(
                        String.valueOf(file.getFileName()),
                        feeds ? bare.withPhantomFeeds() : bare,
                        Double.NaN,
                        0,
                        request.preamplifier()));
            }
            MatchRequest.Booster booster = request.booster();
            if (booster != null) {
                boosters.add(new MatchInput(
                        "booster",
                        InputImpedance.ofOhms(booster.ohm(), 0),
                        booster.ohm(),
                        booster.outputOhm(),
                        booster.electronics()));
            }
        } catch (IllegalArgumentException | ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
        if (request.inputs() != null) {
            InputsFile file = InputsFile.read(request.inputs());
            inputs.addAll(file.inputs());
            boosters.addAll(file.boosters());
        }
    }

    private interface Predicting {
        LoadPrediction run();
    }

    /** What is wrong with one of many inputs is told with its name. */
    private static LoadPrediction named(MatchInput input, Predicting predicting) throws BadInputException {
        try {
            return predicting.run();
        } catch (IllegalArgumentException e) {
            throw new BadInputException(input.name() + ": " + e.getMessage(), e);
        }
    }

    private List<Finding> findings(List<LoadPrediction> predictions) {
        List<Finding> out = new ArrayList<>();
        Measurement m = curve.measurement();
        if (m.curve().parallelWithInput()) {
            out.add(new Finding(
                    FindingCode.INPUT_UNKNOWN,
                    null,
                    "this curve is that of the microphone in parallel with its recording input, which was not stated;"
                            + " losses count from that and loads come in addition to that input, so that the microphone"
                            + " alone loses more: state the input in the session and measure again"));
        }
        Double least = m.microphone().ratedMinimumLoadOhm();
        for (LoadPrediction p : predictions) {
            if (least != null && p.loadOhm() < least) {
                out.add(FindingCode.Wording.BELOW_RATED_LOAD.of(null, p.name() + ": a ", p.loadOhm(), least));
            }
        }
        return out;
    }

    /** What equivalent input noise the amplifiers count with, each kind once. */
    private Set<String> equivalentInputNoise(List<MatchInput> inputs, List<MatchInput> boosters) {
        Set<String> out = new LinkedHashSet<>();
        // Without inputs of the workshop the usual loads are shown, with the noise of the request.
        String usual = inputs.isEmpty() ? request.preamplifier().einInWords() : null;
        if (usual != null) {
            out.add("Equivalent input noise (EIN): " + usual + ".");
        }
        Stream.concat(inputs.stream(), boosters.stream())
                .filter(input -> input.electronics().einInWords() != null)
                .forEach(input -> out.add("Equivalent input noise (EIN) of " + input.name() + ": "
                        + input.electronics().einInWords() + "."));
        return out;
    }

    private List<String> notes(List<LoadPrediction> predictions, List<MatchInput> inputs, List<MatchInput> boosters) {
        List<String> out = new ArrayList<>();
        Measurement m = curve.measurement();
        Matching.Coverage covered = matching.coverage();
        if (m.usability() != Usability.USABLE) {
            out.add("The curve is " + m.usability().word() + ": "
                    + (m.findings().isEmpty()
                            ? "look at the session"
                            : m.findings().get(0).message()) + ".");
        }
        out.add("The curve holds " + Numbers.briefFrequency(covered.lowestHz()) + " to "
                + Numbers.briefFrequency(covered.highestHz()) + " of this range; nothing is claimed outside.");
        if (covered.gaps() > 0) {
            out.add(covered.gaps() + " of " + covered.bands()
                    + " bands were rejected in the measurement; nothing is claimed there either.");
        }
        if (covered.bounded() > 0) {
            out.add("In " + covered.bounded() + " of " + covered.bands()
                    + " bands the curve has only bounds of |Z|: so have"
                    + " losses and what follows from them, and noise is not counted there.");
        }
        if (covered.unsigned() > 0) {
            out.add("In " + covered.unsigned() + " of " + covered.bands()
                    + " bands the curve does not tell the sign of X,"
                    + " which counts as either, and states an uncertainty of |Z| only.");
        }
        if (!covered.reference()) {
            out.add("The curve does not hold 1 kHz: response change, level and equivalent noise are not determined.");
        }
        if (request.sound() != null) {
            out.addAll(equivalentInputNoise(inputs, boosters));
        }
        if (m.curve().covariance() == null) {
            out.add(
                    "The file of the curve does not tell how the errors of its bands belong together; for differences they"
                            + " count as independent.");
        }
        boolean noise = predictions.stream().anyMatch(p -> p.level() != null);
        if (noise) {
            out.add(
                    "Noise is counted over the measured bands within 20 Hz to 20 kHz; loads count as resistors at the same"
                            + " temperature.");
        }
        return out;
    }
}
