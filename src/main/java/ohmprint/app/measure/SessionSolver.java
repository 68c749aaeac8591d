package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.app.BadInputException;
import ohmprint.curve.Consistency;
import ohmprint.curve.Finding;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Route;
import ohmprint.estimate.BinObservations;
import ohmprint.estimate.CoherentSolver;
import ohmprint.estimate.CurveEstimate;
import ohmprint.estimate.LoadedTakes;
import ohmprint.estimate.PowerSolver;
import ohmprint.estimate.Priors;
import ohmprint.estimate.TakeAgreement;
import ohmprint.session.Session;
import ohmprint.session.Take;

/**
 * From what the takes hold to a curve: the takes of one level, less what repeated loads show of a drift and less a take that the
 * others disagree with, and the estimate from the rest.
 */
final class SessionSolver {
    private static final int POWER_BANDS = 3;

    private final MeasureRequest request;
    private final Session session;
    private final Subject subject;

    /**
     * A solver.
     *
     * @param request which bands, and how errors that all bands share are treated
     * @param session the session
     * @param subject what it measures
     */
    SessionSolver(MeasureRequest request, Session session, Subject subject) {
        this.request = request;
        this.session = session;
        this.subject = subject;
    }

    /**
     * A curve and what was left out for it.
     *
     * @param curve the curve
     * @param leftOut for each take of the session whether the curve does without it
     * @param contradicted whether the takes contradict each other so much that no curve can rest on them
     * @param uncorrectedDrift whether a level changed by an amount that is not known
     * @param findings what is worth a word
     */
    record Solution(
            ImpedanceCurve curve,
            boolean[] leftOut,
            boolean contradicted,
            boolean uncorrectedDrift,
            List<Finding> findings) {}

    /**
     * The curve.
     *
     * @param seen what the takes hold
     * @param loads what each take of the session drives
     * @throws BadInputException if the takes or the frequency range cannot be worked with
     */
    Solution solve(Observation seen, LoadedTakes loads) throws BadInputException {
        List<Finding> findings = new ArrayList<>();
        boolean[] leftOut = new boolean[session.takes().size()];
        Arrays.fill(leftOut, true);
        for (int k : seen.kept()) {
            leftOut[k] = false;
        }
        LoadedTakes takes = loads.only(seen.kept());
        BinObservations bins = seen.bins();
        requireDifferentLoads(takes);
        boolean drifted = false;
        double spread = 0;
        boolean disagree = false;
        RepeatedLoads repeats = RepeatedLoads.NONE;
        if (seen.route() != Route.POWER) {
            List<Take> kept =
                    Arrays.stream(seen.kept()).mapToObj(session.takes()::get).toList();
            LevelSteps steps = LevelSteps.of(seen, takes, kept);
            findings.addAll(steps.findings());
            drifted = steps.uncertain();
            int[] places = steps.used();
            kept = Arrays.stream(places).mapToObj(kept::get).toList();
            bins = bins.only(places);
            takes = takes.only(places);
            Arrays.fill(leftOut, true);
            for (int k : places) {
                leftOut[seen.kept()[k]] = false;
            }
            int[] inSession = Arrays.stream(places).map(k -> seen.kept()[k]).toArray();
            repeats = RepeatedLoads.of(bins, kept, inSession);
            bins = repeats.levelled(bins, inSession);
            findings.addAll(repeats.findings());
            findings.addAll(SourceLevels.findings(seen, session.takes()));
            if (takes.size() > 2) {
                TakeAgreement agreement = TakeAgreement.of(bins, takes);
                findings.addAll(CurveFindings.agreement(agreement, kept, subject));
                spread = agreement.gainSpread();
                disagree = agreement.misfit() > agreement.visible();
                if (CurveFindings.leavesOut(agreement)) {
                    drifted |= agreement.levelExplainsBetter();
                    int[] others = IntStream.range(0, takes.size())
                            .filter(k -> k != agreement.suspect())
                            .toArray();
                    leftOut[seen.kept()[places[agreement.suspect()]]] = true;
                    bins = bins.only(others);
                    takes = takes.only(others);
                    TakeAgreement rest = TakeAgreement.of(bins, takes);
                    spread = rest.gainSpread();
                    disagree = rest.misfit() > rest.visible();
                }
            }
        }
        CurveEstimate estimate = estimate(seen, bins, takes, spread, repeats);
        Contradiction contradiction = Contradiction.NONE;
        Consistency consistency = estimate.consistency();
        if (consistency != null && (disagree || consistency.isContradicted())) {
            contradiction = Contradiction.of(estimate, bins, takes, priors(seen, 0, repeats), subject);
            if (contradiction.isGross() || consistency.isContradicted()) {
                findings.add(contradiction.finding());
            }
        }
        ImpedanceCurve curve = subject.curve(estimate, takes);
        findings.addAll(CurveFindings.weak(curve));
        findings.addAll(CurveFindings.negative(curve));
        return new Solution(curve, leftOut, contradiction.isGross(), drifted, findings);
    }

    private void requireDifferentLoads(LoadedTakes takes) throws BadInputException {
        if (takes.loads().stream().mapToDouble(l -> l.conductance()).distinct().count() < 2) {
            throw new BadInputException("the takes that hold the same sound all have one " + subject.resistor()
                    + "; record the same sound through another " + subject.resistor());
        }
    }

    private CurveEstimate estimate(
            Observation seen, BinObservations bins, LoadedTakes takes, double seenSpread, RepeatedLoads repeats)
            throws BadInputException {
        Integer asked = request.bandsPerOctave();
        boolean power = seen.route() == Route.POWER;
        FrequencyBands bands = FrequencyBands.within(
                asked != null ? asked : power ? POWER_BANDS : MeasureRequest.DEFAULT_BANDS_PER_OCTAVE,
                request.fromHz(),
                request.toHz());
        InputRange.check(session, bands);
        Priors priors = priors(seen, seenSpread, repeats);
        return power
                ? new PowerSolver(bands, priors).solve(bins, takes)
                : new CoherentSolver(bands, priors, request.sharedErrors()).solve(bins, takes);
    }

    private Priors priors(Observation seen, double seenSpread, RepeatedLoads repeats) {
        double assumed = seen.route() == Route.POWER
                ? LevelDrift.POWER
                : seen.route() == Route.REFERENCE ? LevelDrift.REFERENCED : LevelDrift.COMPARED;
        GainScatter scatter = GainScatter.believed(LevelDrift.believed(session.levelDriftPercent(), assumed))
                .with(repeats)
                .atLeast(seenSpread);
        return new Priors(scatter.relative(), scatter.freedom(), seen.delayUncertainty());
    }
}
