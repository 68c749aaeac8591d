package ohmprint.spec;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;
import ohmprint.curve.Usability;

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
        double share = GuardBand.SIDE_RATE / specification.requirements();
        List<BandRequirement> onMagnitude = onMagnitude(specification, curve);
        List<CheckRates> rates = CheckRates.of(
                curve, onMagnitude.stream().map(BandRequirement::checks).toList(), share);
        List<RequirementVerdict> out = new ArrayList<>();
        for (int r = 0; r < rates.size(); r++) {
            out.add(onMagnitude.get(r).decide(rates.get(r)));
        }
        if (specification.resonance() != null) {
            out.add(PeakSearch.judge(curve, specification.resonance(), share));
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
}
