package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.app.BadInputException;
import ohmprint.estimation.CoherentSolver;
import ohmprint.estimation.CurveEstimate;
import ohmprint.estimation.PowerSolver;
import ohmprint.estimation.Priors;
import ohmprint.estimation.TakeAgreement;
import ohmprint.impedance.Consistency;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Route;
import ohmprint.session.Session;
import ohmprint.session.Take;

/**
 * From what the takes hold to a curve: the takes of one level, less what repeated loads show of a drift and less a take that the
 * others disagree with, and the estimate from the rest.
 */
final class SessionSolver {
    private static final int POWER_BANDS = 3;
    private static final double DRIFT_WORTH_A_WORD_DB = 0.02;

    private final MeasureRequest request;
    private final Session session;
    private final DeviceUnderTest subject;

    /**
     * A solver.
     *
     * @param request which bands, and how errors that all bands share are treated
     * @param session the session
     * @param subject what it measures
     */
    SessionSolver(MeasureRequest request, Session session, DeviceUnderTest subject) {
        this.request = request;
        this.session = session;
        this.subject = subject;
    }

    /**
     * A curve and the takes that it rests on.
     *
     * @param curve the curve
     * @param used the takes that it rests on
     * @param contradicted whether the takes contradict each other so much that no curve can rest on them
     * @param uncorrectedDrift whether a level changed by an amount that is not known
     * @param findings what is worth a word
     */
    record Solution(
            ImpedanceCurve curve,
            TakeSet used,
            boolean contradicted,
            boolean uncorrectedDrift,
            List<Finding> findings) {}

    /**
     * The curve.
     *
     * @param seen what the takes hold
     * @throws BadInputException if the takes or the frequency range cannot be worked with
     */
    Solution solve(AlignedSpectra seen) throws BadInputException {
        List<Finding> findings = new ArrayList<>();
        TakeSet takes = seen.takes();
        requireDifferentLoads(takes);
        boolean drifted = false;
        double spread = 0;
        boolean disagree = false;
        RepeatDrift repeats = RepeatDrift.NONE;
        if (seen.route() != Route.POWER) {
            LevelGroups steps = LevelGroups.of(seen);
            findings.addAll(steps.findings());
            drifted = steps.uncertain();
            repeats = RepeatDrift.of(steps.used());
            takes = repeats.levelled(steps.used());
            findings.addAll(repeats.findings());
            noteSourceDrift(seen, findings);
            if (takes.size() > 2) {
                TakeAgreement agreement = TakeAgreement.of(takes.bins(), takes.loads());
                Contradiction.disagreement(agreement, takes, subject).ifPresent(findings::add);
                Take blamed = Contradiction.blamed(agreement, takes).orElse(null);
                if (blamed != null) {
                    drifted |= agreement.levelExplainsBetter();
                    takes = takes.without(blamed);
                    agreement = TakeAgreement.of(takes.bins(), takes.loads());
                }
                spread = agreement.gainSpread();
                disagree = agreement.misfit() > agreement.visible();
            }
        }
        CurveEstimate estimate = estimate(seen, takes, spread, repeats);
        boolean contradicted = false;
        Consistency consistency = estimate.consistency();
        if (consistency != null && (disagree || consistency.isContradicted())) {
            Contradiction contradiction = Contradiction.of(estimate, takes, priors(seen, 0, repeats), subject);
            contradicted = contradiction.isGross();
            if (contradicted || consistency.isContradicted()) {
                findings.add(contradiction.finding());
            }
        }
        ImpedanceCurve curve = subject.curve(estimate, takes.loads());
        findings.addAll(UsabilityRule.findings(curve));
        return new Solution(curve, takes, contradicted, drifted, findings);
    }

    /** One finding for each take whose source level differs from the first one's; it has been taken out already. */
    private static void noteSourceDrift(AlignedSpectra seen, List<Finding> findings) {
        for (Take take : seen.takes().takes()) {
            double drift = seen.of(take).driftDb();
            if (Math.abs(drift) > DRIFT_WORTH_A_WORD_DB) {
                findings.add(Wording.SOURCE_DRIFT.of(take.file(), drift));
            }
        }
    }

    private void requireDifferentLoads(TakeSet takes) throws BadInputException {
        if (TakeSet.differentLoads(takes.takes()) < 2) {
            throw new BadInputException("the takes that hold the same sound all have one " + subject.resistor()
                    + "; record the same sound through another " + subject.resistor());
        }
    }

    private CurveEstimate estimate(AlignedSpectra seen, TakeSet takes, double seenSpread, RepeatDrift repeats)
            throws BadInputException {
        Integer asked = request.bandsPerOctave();
        boolean power = seen.route() == Route.POWER;
        FrequencyBands bands = FrequencyBands.within(
                asked != null ? asked : power ? POWER_BANDS : MeasureRequest.DEFAULT_BANDS_PER_OCTAVE,
                request.fromHz(),
                request.toHz());
        requireKnownInput(bands);
        Priors priors = priors(seen, seenSpread, repeats);
        return power
                ? new PowerSolver(bands, priors).solve(takes.bins(), takes.loads())
                : new CoherentSolver(bands, priors, request.sharedErrors()).solve(takes.bins(), takes.loads());
    }

    private Priors priors(AlignedSpectra seen, double seenSpread, RepeatDrift repeats) {
        return LevelDrift.believed(session.levelDriftPercent(), seen.route())
                .with(repeats)
                .atLeast(seenSpread)
                .priors(seen.delayUncertainty());
    }

    /** A measured input has to cover the bands. */
    private void requireKnownInput(FrequencyBands bands) throws BadInputException {
        double low = bands.lowerEdge(0);
        double high = bands.upperEdge(bands.size() - 1);
        if (low < session.input().lowestHz() || high > session.input().highestHz()) {
            throw new BadInputException(String.format(
                    Locale.ROOT,
                    "the input curve %s is known from %.0f to %.0f Hz, the bands reach from %.0f to %.0f Hz; narrow them with"
                            + " --from and --to or measure the input further",
                    session.inputCurveFile(),
                    session.input().lowestHz(),
                    session.input().highestHz(),
                    low,
                    high));
        }
    }
}
