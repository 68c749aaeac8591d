package ohmprint.app.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import ohmprint.app.check.CheckOutcome;
import ohmprint.app.library.Comparison;
import ohmprint.app.match.LevelPrediction;
import ohmprint.app.match.LoadPrediction;
import ohmprint.app.match.MatchOutcome;
import ohmprint.app.match.MatchRequest;
import ohmprint.app.match.Matching;
import ohmprint.app.measure.ConsistencyWords;
import ohmprint.chart.Chart;
import ohmprint.chart.ChartTheme;
import ohmprint.chart.Sheet.Block;
import ohmprint.chart.Sheet.Drawing;
import ohmprint.chart.Sheet.Fact;
import ohmprint.chart.Sheet.Facts;
import ohmprint.chart.Sheet.Notice;
import ohmprint.chart.Sheet.Section;
import ohmprint.chart.Sheet.Table;
import ohmprint.chart.Sheet.Tone;
import ohmprint.chart.Sheet.Words;
import ohmprint.circuit.fit.CircuitFit;
import ohmprint.circuit.fit.FittedCircuit;
import ohmprint.circuit.fit.FittedCircuit.Estimate;
import ohmprint.conformity.RequirementVerdict;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CauseOrigin;
import ohmprint.impedance.Consistency;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.PredictedValue;
import ohmprint.impedance.Provenance;
import ohmprint.impedance.Provenance.TakeOrigin;
import ohmprint.text.MinusSign;
import ohmprint.text.Numbers;
import ohmprint.text.Rounded;
import org.jspecify.annotations.Nullable;

/**
 * The sections of a sheet, in the order in which a reader meets them. Each is composed from outcomes that are at hand; what
 * they share is small and stands at the end. They stay together, long as the file is, because the words of one refer to
 * those of another.
 */
final class SheetSections {
    /** Inputs as they are usual; common practice, no source. */
    static final double[] USUAL_OHMS = {600, 1500, 2000, 3000, 5000, 10_000};

    private static final double[] SHOWN_HZ = {50, 100, 200, 1000, 5000, 10_000, 16_000};
    private static final double EIGHTH_OF_AN_OCTAVE = 0.125;
    private static final double LEAST_OHM = 0.001;
    private static final int FINGERPRINT_DIGITS = 64;

    private static final List<String> CAUTIONS = List.of(
            "Phantom power off and discharged before a load, a patch or a ribbon is connected. Loads go across pins 2 and 3,"
                    + " never to pin 1. A passive ribbon can be destroyed.",
            "No ohmmeter on a ribbon or its transformer; never blow on a ribbon.",
            "Sweeps are loud: keep levels and times down, protect your hearing.",
            "Valve supplies carry over 100 V, and capacitors stay charged; mains equipment is for qualified people. Local"
                    + " codes and licensed practice come first.");

    private SheetSections() {}

    /**
     * The curve, and the numbers that people ask for first.
     *
     * @param light the chart for paper, which may hold the limits of a specification
     * @param dark the same for a dim screen
     */
    static Section result(Measurement m, Chart light, Chart dark) {
        List<Block> blocks = new ArrayList<>();
        blocks.add(verdict(m));
        ImpedanceCurve curve = m.curve();
        List<Fact> facts = new ArrayList<>();
        facts.add(new Fact("Quantity", Phrases.capital(curve.quantity())));
        if (curve.count(BandStatus.MEASURED) > 0) {
            values(curve, facts);
        }
        facts.add(new Fact("Bands", bands(curve)));
        String name = "Consistency";
        for (String sentence : ConsistencyWords.of(curve.consistency())) {
            facts.add(new Fact(name, Phrases.capital(sentence)));
            name = "";
        }
        blocks.add(new Facts(facts));
        blocks.add(new Drawing(
                light,
                dark,
                description(curve),
                "The shaded band holds the value with 95 % confidence. Parts of the error are common to all bands, so the"
                        + " curve may shift as a whole within it."));
        return new Section("Result", blocks);
    }

    private static Notice verdict(Measurement m) {
        return switch (m.usability()) {
            case USABLE -> usable(m.curve().consistency());
            case DOUBTFUL ->
                new Notice(Tone.DOUBTFUL, "Doubtful.", "The findings below say what weakens this measurement.");
            case UNUSABLE ->
                new Notice(
                        Tone.BAD,
                        "Unusable.",
                        "The takes do not support a curve; what is shown is for finding the fault only.");
        };
    }

    /** Takes agree only where they were compared: two of them, or a curve of a version that did not say, show nothing. */
    private static Notice usable(@Nullable Consistency consistency) {
        if (consistency == null || (consistency.takes() == null && consistency.entered() == null)) {
            return new Notice(
                    Tone.GOOD,
                    "Usable.",
                    "No fault was found. Whether loads and levels are as entered was not checked against each other.");
        }
        return ConsistencyWords.agree(consistency)
                ? new Notice(Tone.GOOD, "Usable.", "The takes agree and support the stated uncertainty.")
                : new Notice(
                        Tone.DOUBTFUL,
                        "Usable, but the takes are not consistent.",
                        "The consistency below says what to check.");
    }

    private static void values(ImpedanceCurve curve, List<Fact> facts) {
        BandValue reference = curve.at(FrequencyBands.REFERENCE_HZ);
        if (reference.isMeasured()) {
            facts.add(new Fact("|Z| at 1 kHz", Phrases.ohms(reference.magnitudeOhm(), reference.magnitudeU95Ohm())));
            if (!Double.isNaN(reference.phaseDeg())) {
                Rounded phase = Rounded.of(reference.phaseDeg(), reference.phaseU95Deg());
                facts.add(new Fact("Phase there", phase.value() + "° ± " + phase.uncertainty() + "°"));
            }
        }
        facts.add(extreme(curve, "Highest |Z|", 1));
        facts.add(extreme(curve, "Lowest |Z|", -1));
    }

    private static Fact extreme(ImpedanceCurve curve, String name, int sign) {
        BandValue v = curve.values().stream()
                .filter(BandValue::isMeasured)
                .max((a, b) -> sign * Double.compare(a.magnitudeOhm(), b.magnitudeOhm()))
                .orElseThrow();
        return new Fact(
                name,
                Phrases.ohms(v.magnitudeOhm(), v.magnitudeU95Ohm()) + " at " + Numbers.frequency(v.frequencyHz()));
    }

    private static String bands(ImpedanceCurve curve) {
        List<String> parts = new ArrayList<>();
        for (BandStatus status : BandStatus.values()) {
            if (curve.count(status) > 0) {
                parts.add(curve.count(status) + " " + status.word());
            }
        }
        int last = curve.bands().size() - 1;
        return Numbers.frequency(curve.bands().midband(0)) + " to "
                + Numbers.frequency(curve.bands().midband(last)) + ", 1/"
                + curve.bands().fraction() + " octave: " + String.join(", ", parts);
    }

    private static String description(ImpedanceCurve curve) {
        if (curve.count(BandStatus.MEASURED) == 0) {
            return "Chart of " + curve.quantity() + " over frequency; no band has a value.";
        }
        Fact high = extreme(curve, "", 1);
        Fact low = extreme(curve, "", -1);
        return "Chart of " + curve.quantity() + " over frequency: between " + low.value() + " and " + high.value()
                + ", with its 95 % band and the phase below.";
    }

    /** Whether a specification is met, and what may be behind it when it is not. */
    static Section specification(CheckOutcome check) {
        List<Block> blocks = new ArrayList<>();
        blocks.add(new Notice(
                tone(check.verdict()),
                Phrases.capital(check.verdict()) + ".",
                "Specification: " + check.specificationName() + "."));
        for (RequirementVerdict r : check.requirements()) {
            List<String> sentences = new ArrayList<>();
            sentences.add(Phrases.sentence(r.words()));
            r.findings().forEach(f -> sentences.add(Phrases.sentence(f)));
            blocks.add(new Notice(
                    tone(r.conformity().word()),
                    Phrases.capital(r.kind().words()) + ": " + r.conformity().word() + ".",
                    String.join(" ", sentences)));
        }
        check.reasons().forEach(r -> blocks.add(new Words(Phrases.sentence(r))));
        check.notes().forEach(r -> blocks.add(new Words(Phrases.sentence(r))));
        if (!check.causes().isEmpty()) {
            blocks.add(new Table(
                    "What is often behind such a pattern (common practice; confirm before you act on it)",
                    List.of("Pattern", "Cause", "Confirm by", "Caution"),
                    check.causes().stream()
                            .map(c -> List.of(c.pattern(), c.cause(), c.confirm(), c.caution()))
                            .toList()));
        }
        blocks.add(new Words(
                "Decided with guard bands of the 95 % uncertainty (JCGM 106:2012): within and outside are stated only where"
                        + " the uncertainty leaves no doubt, otherwise undecided."));
        return new Section("Specification", blocks);
    }

    private static Tone tone(String verdict) {
        return switch (verdict.toLowerCase(Locale.ROOT)) {
            case "within" -> Tone.GOOD;
            case "outside" -> Tone.BAD;
            default -> Tone.DOUBTFUL;
        };
    }

    /** What input the microphone wants, and what usual inputs do to it. */
    static Section inputs(MatchOutcome match) {
        List<Block> blocks = new ArrayList<>();
        List<Fact> facts = new ArrayList<>();
        facts.add(new Fact("Least load for a loss of 1 dB", least(match.leastForLoss())));
        PredictedValue ten = match.tenTimes();
        facts.add(new Fact(
                "Ten times the highest |Z|", Phrases.of(ten, "Ω") + " (at " + Numbers.frequency(ten.hz()) + ")"));
        facts.add(new Fact("Least load for a tilt of 0.5 dB", least(match.leastForTilt())));
        blocks.add(new Facts(facts));
        blocks.add(new Table(
                "What a load does, from " + Numbers.frequency(match.coverage().lowestHz()) + " to "
                        + Numbers.frequency(match.coverage().highestHz()),
                List.of("Input", "Greatest loss", "at", "Tilt", "Ten times"),
                match.inputs().stream().map(SheetSections::inputRow).toList()));
        blocks.add(new Words(
                "Common practice asks for ten times the source impedance in the whole band: 91 % of the voltage, a loss of"
                        + " 0.83 dB. Tilt is the greatest less the least loss. Outside the measured band nothing is"
                        + " claimed."));
        match.notes().forEach(n -> blocks.add(new Words(Phrases.sentence(n))));
        return new Section("Which input suits it", blocks);
    }

    private static List<String> inputRow(LoadPrediction p) {
        return List.of(
                p.name(),
                Phrases.level(p.worstLoss(), "dB"),
                Numbers.frequency(p.worstLoss().hz()),
                Phrases.level(p.tilt(), "dB"),
                p.tenTimes().word());
    }

    private static String least(Matching.LeastResistance least) {
        return least.any() ? "any" : Phrases.of(least.ohm(), "Ω");
    }

    /** Level and noise with usual inputs, or null when they were not asked for. */
    static @Nullable Section levels(MatchOutcome match) {
        MatchRequest.Sound sound = match.request().sound();
        if (sound == null) {
            return null;
        }
        List<List<String>> rows = new ArrayList<>();
        for (LoadPrediction p : match.inputs()) {
            LevelPrediction level = p.level();
            if (level != null) {
                rows.add(List.of(
                        p.name(),
                        Phrases.level(level.levelDbu(), "dBu"),
                        Numbers.digits(level.millivolt().value(), 3) + " mV",
                        Phrases.level(level.neededGainDb(), "dB"),
                        Phrases.level(level.thermalDbu(), "dBu"),
                        Phrases.level(level.equivalentADb(), "dB")));
            }
        }
        List<String> columns = List.of("Input", "Level", "the same", "Gain needed", "Thermal noise", "Equivalent, A");
        boolean known =
                rows.stream().anyMatch(row -> !row.get(columns.size() - 1).equals(Rounded.NONE));
        int shown = known ? columns.size() : columns.size() - 1;
        return new Section(
                "Level and noise",
                List.of(new Table(
                        "Sensitivity " + Phrases.plain(sound.sensitivityMv()) + " mV/Pa, source of "
                                + Phrases.plain(sound.splDb()) + " dB SPL, gain for "
                                + Phrases.plain(sound.targetDbu())
                                + " dBu; thermal noise of microphone and load, without the amplifier's",
                        columns.subList(0, shown),
                        rows.stream().map(row -> row.subList(0, shown)).toList())));
    }

    /** Before and after: where the curve differs from an earlier one by more than the uncertainty of both. */
    static Section comparison(Comparison comparison) {
        Comparison.Difference difference = comparison.differences().get(0);
        List<Block> blocks = new ArrayList<>();
        if (difference.different() != null) {
            blocks.add(new Words("Warning. " + difference.different()));
        }
        if (difference.ranges().isEmpty()) {
            blocks.add(new Words("No band differs by more than the uncertainty of the two curves explains."));
        } else {
            blocks.add(new Table(
                    "Where it differs from the earlier curve",
                    List.of("From", "to", "Largest difference of |Z|", "95 % interval", "at"),
                    difference.ranges().stream()
                            .map(SheetSections::differenceRow)
                            .toList()));
        }
        blocks.add(new Drawing(
                comparison.chart(ChartTheme.LIGHT).forPage(),
                comparison.chart(ChartTheme.DARK).forPage(),
                "Chart of both curves over frequency with their 95 % bands, and below it the difference in percent.",
                difference.assumed()));
        return new Section("Before and after", blocks);
    }

    private static List<String> differenceRow(Comparison.Difference.Range range) {
        Comparison.Difference.Band largest = range.largest();
        return List.of(
                Numbers.frequency(range.fromHz()),
                Numbers.frequency(range.toHz()),
                signed(largest.percent()) + " %",
                signed(largest.lowPercent()) + " to " + signed(largest.highPercent()) + " %",
                Numbers.frequency(largest.hz()));
    }

    private static String signed(double percent) {
        return (percent > 0 ? "+" : percent < 0 ? "−" : "") + Numbers.digits(Math.abs(percent), 3);
    }

    /** The electrical circuit that the curve speaks for, or null when it does not hold enough for one. */
    static @Nullable Section circuit(Measurement m) {
        FittedCircuit circuit;
        try {
            circuit = CircuitFit.of(m.curve(), m.microphone().transducer(), null);
        } catch (IllegalArgumentException e) {
            return null;
        }
        List<List<String>> rows = new ArrayList<>();
        for (Estimate e : circuit.values()) {
            rows.add(circuitRow(e));
        }
        if (!circuit.words().contains("inductor")) {
            rows.add(circuitRow(circuit.topInductance()));
        }
        return new Section(
                "Electrical circuit",
                List.of(
                        new Words(Phrases.sentence(circuit.words()) + " It follows the curve within "
                                + Numbers.digits(circuit.misfit().rmsPercent(), 2) + " % (root mean square), worst "
                                + Numbers.digits(circuit.misfit().worstPercent(), 2) + " % at "
                                + Numbers.frequency(circuit.misfit().worstHz()) + "."),
                        new Table("Values with their 95 % intervals", List.of("Value", "", "95 % interval"), rows)));
    }

    private static List<String> circuitRow(Estimate e) {
        String name = Phrases.capital(e.words().replaceFirst(" q$", ", Q"));
        return e.determined()
                ? List.of(
                        name,
                        Numbers.withPrefix(e.value(), e.unit(), 3),
                        Numbers.withPrefix(e.low(), e.unit(), 3) + " to " + Numbers.withPrefix(e.high(), e.unit(), 3))
                : List.of(name, "not determined", Rounded.NONE);
    }

    /** What was noticed about the takes. */
    static Section findings(Measurement m) {
        List<Block> blocks = new ArrayList<>();
        if (m.findings().isEmpty()) {
            blocks.add(new Words("Nothing was noticed about the takes."));
        }
        for (Finding f : m.findings()) {
            String take = f.take() == null ? "" : " (" + f.take() + ")";
            blocks.add(new Notice(
                    Tone.PLAIN, f.code().word() + take + ":", Phrases.sentence(MinusSign.inSentence(f.message()))));
        }
        return new Section("Findings", blocks);
    }

    /** The cautions of the trade. */
    static Section cautions() {
        return new Section(
                "Cautions", CAUTIONS.stream().map(c -> (Block) new Words(c)).toList());
    }

    /** What the number after ± is, in the form that JCGM 100:2008, 7.2.3 asks for, and where it comes from. */
    static Section uncertainty(Measurement m) {
        List<Block> blocks = new ArrayList<>();
        blocks.add(new Words(
                "The number after ± is an expanded uncertainty U = k·u, with u the combined standard uncertainty and the"
                        + " coverage factor k from Student's distribution for the effective degrees of freedom; it defines"
                        + " an interval with a level of confidence of 95 %. Where |Z| is hardly larger than u, the interval"
                        + " is found by propagating distributions (JCGM 101:2008) instead, and k is U divided by u."));
        List<List<String>> rows = uncertaintyRows(m.curve());
        if (!rows.isEmpty()) {
            blocks.add(new Table("Standard uncertainty of |Z| by origin, ohms", uncertaintyHeads(), rows));
            blocks.add(new Words(
                    "Drift is what levels may have changed from take to take; loads is the tolerance of the resistors; input"
                            + " is what is not known of the recording input and its cable. These three are common to all"
                            + " bands and move the curve as a whole."));
        }
        return new Section("Uncertainty", blocks);
    }

    private static List<String> uncertaintyHeads() {
        List<String> heads = new ArrayList<>(List.of("At", "|Z| ± U, Ω"));
        for (CauseOrigin origin : CauseOrigin.values()) {
            heads.add(origin.word());
        }
        heads.addAll(List.of("together", "k"));
        return heads;
    }

    private static List<List<String>> uncertaintyRows(ImpedanceCurve curve) {
        List<List<String>> rows = new ArrayList<>();
        BandValue last = null;
        for (double hz : SHOWN_HZ) {
            BandValue v = nearest(curve, hz);
            if (v != null && !v.equals(last) && v.budget() != null) {
                rows.add(uncertaintyRow(v, v.budget()));
                last = v;
            }
        }
        return rows;
    }

    private static List<String> uncertaintyRow(BandValue v, BandBudget b) {
        Rounded z = Rounded.of(v.magnitudeOhm(), v.magnitudeU95Ohm());
        List<String> row =
                new ArrayList<>(List.of(Numbers.frequency(v.frequencyHz()), z.value() + " ± " + z.uncertainty()));
        for (CauseOrigin origin : CauseOrigin.values()) {
            row.add(two(b.of(origin)));
        }
        row.add(two(b.combined()));
        row.add(b.combined() > 0 ? Numbers.digits(v.magnitudeU95Ohm() / b.combined(), 3) : Rounded.NONE);
        return row;
    }

    private static String two(double ohm) {
        return ohm == 0 ? "0" : ohm < LEAST_OHM ? "< " + LEAST_OHM : Numbers.digits(ohm, 2);
    }

    /** How it was measured, enough to repeat it. */
    static Section method(Measurement m) {
        Provenance p = m.provenance();
        List<Block> blocks = new ArrayList<>();
        blocks.add(new Words(
                "The same sound was recorded through known resistors across the microphone. How the voltage falls with the"
                        + " load gives the source impedance; what the loudspeaker, the room and the recorder do to the"
                        + " sound drops out."));
        List<Fact> facts = new ArrayList<>();
        String reason = m.routeReason().isBlank() ? "" : ": " + m.routeReason();
        facts.add(new Fact("Compared with", m.route().word() + reason));
        facts.add(new Fact("Recording input", p.input()));
        facts.add(new Fact("Computed", p.computedAt() + " by ohmprint " + p.programVersion()));
        if (p.stimulus() != null) {
            facts.add(new Fact("Sound played", p.stimulus().file()));
            facts.add(new Fact("its SHA-256", fingerprint(p.stimulus().sha256())));
        }
        blocks.add(new Facts(facts));
        blocks.add(new Table(
                "Takes",
                List.of("Take", "Load", "SHA-256"),
                p.takes().stream().map(SheetSections::take).toList()));
        return new Section("How it was measured", blocks);
    }

    private static List<String> take(TakeOrigin take) {
        String load = take.loadOhm() == Double.POSITIVE_INFINITY
                ? "open"
                : Phrases.plain(take.loadOhm()) + " Ω ± " + Phrases.plain(take.loadTolerancePercent()) + " %";
        return List.of(
                take.file().file(),
                take.leftOut() ? load + " (left out)" : load,
                fingerprint(take.file().sha256()));
    }

    /** In groups of sixteen, so that lines can break. */
    private static String fingerprint(String sha256) {
        if (sha256.length() != FINGERPRINT_DIGITS) {
            return sha256;
        }
        return String.join(" ", sha256.split("(?<=\\G.{16})"));
    }

    /** The band with a budget nearest to a frequency, if one is within an eighth of an octave: a budget belongs to a band. */
    private static @Nullable BandValue nearest(ImpedanceCurve curve, double hz) {
        return curve.values().stream()
                .filter(v -> v.budget() != null
                        && Math.abs(Math.log(v.frequencyHz() / hz)) < Math.log(2) * EIGHTH_OF_AN_OCTAVE)
                .min(Comparator.comparingDouble(v -> Math.abs(Math.log(v.frequencyHz() / hz))))
                .orElse(null);
    }
}
