package ohmprint.conformity;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.DoubleFunction;
import ohmprint.conformity.RequirementVerdict.BandRun;
import ohmprint.conformity.Specification.MaskRange;
import ohmprint.conformity.Specification.RatedImpedance;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Usability;
import ohmprint.text.Numbers;

/** Decides whether a measurement meets a specification; the rule is in the comment of the package. */
public final class Decision {
    private Decision() {}

    /** The verdict on a measurement. */
    public static Verdict of(Specification specification, Measurement measurement) {
        ImpedanceCurve curve = measurement.curve();
        List<String> reasons = reasons(measurement);
        List<RequirementVerdict> requirements = reasons.isEmpty() ? requirements(specification, curve) : List.of();
        Conformity answer = reasons.isEmpty() ? Conformity.WITHIN : Conformity.UNDECIDED;
        for (RequirementVerdict requirement : requirements) {
            answer = answer.and(requirement.conformity());
        }
        return new Verdict(answer, requirements, reasons, notes(specification, measurement));
    }

    private static List<RequirementVerdict> requirements(Specification specification, ImpedanceCurve curve) {
        double share = FamilywiseRates.SIDE_RATE / specification.requirements();
        List<BandRequirement> onMagnitude = onMagnitude(specification, curve);
        List<FamilywiseRates> rates = FamilywiseRates.of(
                curve, onMagnitude.stream().map(BandRequirement::checks).toList(), share);
        List<RequirementVerdict> out = new ArrayList<>();
        for (int r = 0; r < rates.size(); r++) {
            out.add(onMagnitude.get(r).decide(rates.get(r)));
        }
        if (specification.resonance() != null) {
            out.add(PeakCheck.judge(curve, specification.resonance(), share));
        }
        out.sort(Comparator.comparing(RequirementVerdict::kind));
        return out;
    }

    private static List<BandRequirement> onMagnitude(Specification specification, ImpedanceCurve curve) {
        List<BandRequirement> out = new ArrayList<>();
        if (specification.rated() != null) {
            out.add(BandRequirement.rated(curve, specification.rated()));
        }
        if (!specification.mask().isEmpty()) {
            out.add(BandRequirement.mask(curve, specification.mask()));
        }
        if (specification.reference() != null) {
            out.add(BandRequirement.reference(curve, specification.reference()));
        }
        return out;
    }

    private static List<String> reasons(Measurement measurement) {
        List<String> out = new ArrayList<>();
        if (measurement.curve().parallelWithInput()) {
            out.add("the curve is that of the microphone in parallel with an unknown input; state resistance_ohm and"
                    + " capacitance_pf of the input in session.yaml and measure again");
        }
        if (measurement.usability() == Usability.UNUSABLE) {
            out.add("the measurement is unusable; record again what its findings name");
        }
        return out;
    }

    private static List<String> notes(Specification specification, Measurement measurement) {
        List<String> out = new ArrayList<>();
        List<String> differences = specification.appliesTo().differences(measurement.microphone());
        if (!differences.isEmpty()) {
            out.add("the specification is meant for another microphone: " + String.join(", ", differences));
        }
        if (measurement.usability() == Usability.DOUBTFUL) {
            out.add("the measurement is doubtful: look at its findings before you rely on the verdict");
        }
        return out;
    }

    /**
     * A requirement on |Z| before it is decided: readings of the curve, each with its limits, and what the curve leaves out.
     *
     * <p>A range is checked at the midbands in it, or, where there is none, at its middle between two midbands. What lies
     * beyond the edges of the first and the last band is left out.
     */
    private static final class BandRequirement {
        /** Share of a frequency by which a range may reach beyond the bands before something counts as left out. */
        private static final double ROUNDING = 0.005;

        private final RequirementVerdict.Kind kind;
        private final List<String> words = new ArrayList<>();
        private final List<LimitedReading> checks = new ArrayList<>();
        private final List<String> reasons = new ArrayList<>();
        private final ImpedanceCurve curve;

        private BandRequirement(RequirementVerdict.Kind kind, ImpedanceCurve curve) {
            this.kind = kind;
            this.curve = curve;
        }

        /** |Z| at one frequency. */
        static BandRequirement rated(ImpedanceCurve curve, RatedImpedance rated) {
            BandRequirement out = new BandRequirement(RequirementVerdict.Kind.RATED_IMPEDANCE, curve);
            out.words.add(InWords.limits(rated.limits()) + " at " + Numbers.briefFrequency(rated.atHz()));
            out.add(Reading.at(curve, rated.atHz()), rated.limits());
            return out;
        }

        /** Limits in ranges of frequencies. */
        static BandRequirement mask(ImpedanceCurve curve, List<MaskRange> mask) {
            BandRequirement out = new BandRequirement(RequirementVerdict.Kind.MASK, curve);
            for (MaskRange range : mask) {
                out.words.add(InWords.limits(range.limits()) + " from " + InWords.range(range.fromHz(), range.toHz()));
                out.range(range.fromHz(), range.toHz(), hz -> range.limits());
            }
            return out;
        }

        /** A curve with limits. */
        static BandRequirement reference(ImpedanceCurve curve, ReferenceCurve reference) {
            BandRequirement out = new BandRequirement(RequirementVerdict.Kind.REFERENCE, curve);
            out.words.add(
                    "within the limits of the reference from " + InWords.range(reference.fromHz(), reference.toHz()));
            out.range(reference.fromHz(), reference.toHz(), reference::limits);
            return out;
        }

        private void range(double fromHz, double toHz, DoubleFunction<Limits> limitsAt) {
            int found = checks.size();
            for (int i = 0; i < curve.bands().size(); i++) {
                double hz = curve.bands().midband(i);
                if (hz >= fromHz * (1 - 1e-6) && hz <= toHz * (1 + 1e-6)) {
                    add(Reading.band(curve, i), limitsAt.apply(hz));
                }
            }
            double lowest = curve.bands().lowerEdge(0);
            double highest = curve.bands().upperEdge(curve.bands().size() - 1);
            if (checks.size() == found && fromHz < highest && toHz > lowest) {
                double middle = Math.sqrt(fromHz * toHz);
                add(Reading.at(curve, middle), limitsAt.apply(middle));
            }
            if (fromHz < lowest * (1 - ROUNDING)) {
                reasons.add("the curve has no bands from " + InWords.range(fromHz, Math.min(toHz, lowest))
                        + "; measure with a lower --from, or narrow the range");
            }
            if (toHz > highest * (1 + ROUNDING)) {
                reasons.add("the curve has no bands from " + InWords.range(Math.max(fromHz, highest), toHz)
                        + "; measure with a higher --to, or narrow the range");
            }
        }

        private void add(Reading reading, Limits limit) {
            checks.add(new LimitedReading(reading, limit));
        }

        /** What is checked. */
        List<LimitedReading> checks() {
            return List.copyOf(checks);
        }

        /** The answer, given the rates of false alarms of one check. */
        RequirementVerdict decide(FamilywiseRates rates) {
            List<BandCheck> judged = new ArrayList<>();
            checks.forEach(check -> judged.add(check.judge(rates)));
            judged.sort(Comparator.comparingDouble(BandCheck::hz));
            List<String> open = new ArrayList<>(reasons);
            open.addAll(BandRun.notMeasured(judged));
            Conformity answer = open.isEmpty() ? Conformity.WITHIN : Conformity.UNDECIDED;
            for (BandCheck check : judged) {
                answer = answer.and(check.conformity());
            }
            return new RequirementVerdict(kind, String.join("; ", words), answer, judged, null, open);
        }
    }
}
