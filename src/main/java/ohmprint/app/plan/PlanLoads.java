package ohmprint.app.plan;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.LevelDrift;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.ResistorSeries;
import ohmprint.estimation.LoadedTakes;
import ohmprint.estimation.UncertaintyPredictor;
import ohmprint.estimation.UncertaintyPredictor.ExpectedSession;
import ohmprint.estimation.UncertaintyPredictor.PredictedBand;
import ohmprint.estimation.UncertaintyPredictor.Prediction;
import ohmprint.impedance.FrequencyBands;
import ohmprint.session.Assumed;
import ohmprint.text.Numbers;
import org.jspecify.annotations.Nullable;

/**
 * Plans a session: the best two, three and four loads, of which no resistor at all may be one. Best is what has the lowest
 * predicted relative 95 % uncertainty of |Z| in the worst band of a measurement in twelfth octaves, among sets whose loads
 * lie apart by a factor of {@value #APART} or more. A load below the minimum that is asked for, else that of the microphone
 * behind the expected curve, is not among the choices.
 */
public final class PlanLoads {
    private static final int FEWEST_LOADS = 2;
    private static final int MOST_LOADS = 4;
    /** The first load comes once more at the end. */
    private static final int REPEATS = 1;
    /** Resistors from a fifth of the lowest |Z| are looked at: what is lower damps a microphone beyond normal use. */
    private static final double LOWEST_SHARE = 0.2;
    /** Up to this many times the highest |Z|: what is higher is as good as none. */
    private static final double HIGHEST_TIMES = 20;
    /** Least ratio of two loads, where there are enough: closer ones gain little, and hide which of them is wrong. */
    private static final double APART = 1.4;
    /** What a bench multimeter tells of a resistor and of an input, standard uncertainty: common practice, no source. */
    private static final double MEASURED = 0.001;

    private final PlanRequest request;
    private final ExpectedSource source;
    private final FrequencyBands bands;
    private final InputImpedance input;
    private final double minimumLoad;

    private PlanLoads(PlanRequest request, ExpectedSource source, FrequencyBands bands, InputImpedance input) {
        this.request = request;
        this.source = source;
        this.bands = bands;
        this.input = input;
        Double asked = request.resistors().minimumLoadOhm();
        Double rated = source.minimumLoadOhm();
        this.minimumLoad = asked != null ? asked : rated != null ? rated : 0;
    }

    /**
     * Plans.
     *
     * @throws BadInputException if the request cannot be worked with
     * @throws IOException if the expected curve cannot be read
     */
    public static LoadPlan run(PlanRequest request) throws BadInputException, IOException {
        return run(request, ExpectedSource.of(request.expected()));
    }

    /**
     * Plans for a source that is at hand; what the request expects is not looked at.
     *
     * @throws BadInputException if the request cannot be worked with
     */
    public static LoadPlan run(PlanRequest request, ExpectedSource source) throws BadInputException {
        try {
            FrequencyBands bands = FrequencyBands.within(
                    MeasureRequest.DEFAULT_BANDS_PER_OCTAVE,
                    edge("lowest", request.fromHz(), source, MeasureRequest.DEFAULT_FROM_HZ),
                    edge("highest", request.toHz(), source, MeasureRequest.DEFAULT_TO_HZ));
            InputImpedance input = InputImpedance.ofOhms(
                    request.inputOhm(),
                    request.inputTolerancePercent(),
                    request.inputPf(),
                    Assumed.INPUT_CAPACITANCE_TOLERANCE_PERCENT);
            return new PlanLoads(request, source, bands, input).plan();
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private static double edge(String which, @Nullable Double asked, ExpectedSource source, double usual)
            throws BadInputException {
        Double low = source.lowestHz();
        Double high = source.highestHz();
        if (low == null || high == null) {
            return asked == null ? usual : asked;
        }
        double nearest = Math.min(high, Math.max(low, asked == null ? usual : asked));
        // The user may round a midband, such as 31.5 for 31.62 Hz.
        if (asked != null
                && Math.abs(Math.log(nearest / asked)) > 0.5 * Math.log(2) / MeasureRequest.DEFAULT_BANDS_PER_OCTAVE) {
            throw new BadInputException(String.format(
                    Locale.ROOT,
                    "the %s frequency is %.1f Hz, but the expected curve holds %.1f Hz to %.1f Hz; stay within it",
                    which,
                    asked,
                    low,
                    high));
        }
        return nearest;
    }

    private LoadPlan plan() throws BadInputException {
        UncertaintyPredictor predictor = predictor(drift(), request.bench().seconds(), REPEATS);
        List<Load> candidates =
                candidates().stream().filter(l -> !(l.ohm() < minimumLoad)).toList();
        if (candidates.size() < FEWEST_LOADS) {
            throw new BadInputException("none of the resistors to choose from ("
                    + (request.resistors().stockOhm().isEmpty()
                            ? request.resistors().series() + " up to " + Numbers.exact(HIGHEST_TIMES)
                                    + " times the impedance"
                            : "the stock")
                    + ") reaches the minimum load of " + Numbers.exact(minimumLoad)
                    + " Ω; add higher ones, or correct the minimum load");
        }
        List<LoadPlan.LoadSet> sets = new ArrayList<>();
        for (int size = FEWEST_LOADS; size <= MOST_LOADS; size++) {
            LoadedTakes best = best(predictor, candidates, size);
            if (best == null) {
                break;
            }
            sets.add(described(best, predictor));
        }
        sets.sort(Comparator.comparingDouble(s -> s.predicted().worst()));
        return new LoadPlan(
                source.label(),
                input.label(),
                bands,
                request.bench(),
                request.resistors().tolerancePercent(),
                request.wantedPercent(),
                sets,
                notes());
    }

    /** What to know of the source, and which resistors of the stock are too low. */
    private List<String> notes() {
        List<String> out = new ArrayList<>(source.notes());
        String low = request.resistors().stockOhm().stream()
                .filter(ohm -> ohm < minimumLoad)
                .distinct()
                .sorted()
                .map(Numbers::exact)
                .collect(Collectors.joining(", "));
        if (!low.isEmpty()) {
            out.add("not proposed, below the minimum load of " + Numbers.exact(minimumLoad) + " Ω: " + low + " Ω");
        }
        return out;
    }

    private @Nullable LoadedTakes best(UncertaintyPredictor predictor, List<Load> loads, int size) {
        LoadedTakes apart = new LoadOptimizer(predictor, input, loads, APART).best(size);
        return apart != null ? apart : new LoadOptimizer(predictor, input, loads, 1).best(size);
    }

    private double drift() {
        return request.bench().driftPercent() / 100;
    }

    private UncertaintyPredictor predictor(double drift, double seconds, int repeats) {
        double ratio = Math.pow(10, request.bench().snrDb() / 10);
        return new UncertaintyPredictor(
                new ExpectedSession(bands, source.source(), ratio, seconds),
                LevelDrift.believed(drift).expecting(repeats).priors());
    }

    private List<Load> candidates() throws BadInputException {
        PlanRequest.Resistors resistors = request.resistors();
        List<Double> ohms = resistors.stockOhm().isEmpty()
                ? series(resistors.series())
                : resistors.stockOhm().stream().distinct().sorted().toList();
        return Stream.concat(
                        ohms.stream().map(ohm -> Load.ofOhms(ohm, resistors.tolerancePercent())),
                        Stream.of(Load.open()))
                .toList();
    }

    private List<Double> series(String name) throws BadInputException {
        ResistorSeries series = Stream.of(ResistorSeries.values())
                .filter(s -> s.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new BadInputException(
                        "a series of resistors " + name + " is not known here; choose E12, E24 or E96"));
        double[] z = IntStream.range(0, bands.size())
                .mapToDouble(b -> source.source().impedance(bands.midband(b)).abs())
                .toArray();
        return series.between(
                LOWEST_SHARE * DoubleStream.of(z).min().orElseThrow(),
                HIGHEST_TIMES * DoubleStream.of(z).max().orElseThrow());
    }

    private LoadPlan.LoadSet described(LoadedTakes takes, UncertaintyPredictor predictor) {
        Prediction prediction = predictor.predict(takes);
        PredictedBand worst = prediction.worst();
        List<Double> order = takes.loads().stream().map(Load::ohm).toList();
        Double wanted = request.wantedPercent();
        return new LoadPlan.LoadSet(
                order.stream().distinct().sorted().toList(),
                order,
                percent(prediction),
                worst.frequencyHz(),
                worst.magnitudeOhm(),
                worst.budget(),
                changes(takes, predictor),
                wanted == null ? null : Double.valueOf(predictor.secondsFor(takes, wanted)),
                List.of());
    }

    private static LoadPlan.Percent percent(Prediction prediction) {
        return new LoadPlan.Percent(prediction.worst().u95Percent(), prediction.medianPercent());
    }

    private List<LoadPlan.Change> changes(LoadedTakes takes, UncertaintyPredictor predictor) {
        List<LoadPlan.Change> out = new ArrayList<>();
        if (takes.loads().stream().anyMatch(l -> l.relativeStandardUncertainty() > MEASURED)) {
            UnaryOperator<Load> known = l -> l.isOpen() ? l : Load.measured(l.ohm(), MEASURED * l.ohm());
            LoadedTakes measured =
                    new LoadedTakes(takes.loads().stream().map(known).toList(), input);
            out.add(change("measure the resistors to 0.1 %", predictor, measured));
        }
        if (request.inputTolerancePercent() / 100 > Math.sqrt(3) * MEASURED) {
            InputImpedance known = InputImpedance.ofOhms(
                    request.inputOhm(),
                    100 * Math.sqrt(3) * MEASURED,
                    request.inputPf(),
                    Assumed.INPUT_CAPACITANCE_TOLERANCE_PERCENT);
            out.add(change("measure the input to 0.1 %", predictor, new LoadedTakes(takes.loads(), known)));
        }
        if (drift() > LevelDrift.REFERENCED) {
            UncertaintyPredictor steady =
                    predictor(LevelDrift.REFERENCED, request.bench().seconds(), REPEATS);
            out.add(change("add a reference channel", steady, takes));
        }
        UncertaintyPredictor longer = predictor(drift(), 2 * request.bench().seconds(), REPEATS);
        out.add(change("make the sound twice as long", longer, takes));
        out.sort(Comparator.comparingDouble(c -> c.predicted().worst()));
        int[] once = IntStream.range(0, takes.size() - 1).toArray();
        UncertaintyPredictor unrepeated = predictor(drift(), request.bench().seconds(), 0);
        out.add(change("leave out the repeated take", unrepeated, takes.only(once)));
        return out;
    }

    private static LoadPlan.Change change(String what, UncertaintyPredictor predictor, LoadedTakes takes) {
        return new LoadPlan.Change(what, percent(predictor.predict(takes)));
    }
}
