package ohmprint.app.workspace;

import java.io.IOException;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.ExpectedSource;
import ohmprint.app.PlanLoads;
import ohmprint.app.PlanRequest;
import ohmprint.app.check.CheckCurve;
import ohmprint.app.record.Cautions;
import ohmprint.spec.Specification;

/** What a workshop wants to know before and after it measures: which loads to take, and whether a curve keeps to its limits. */
public final class Deciding {
    private static final String OWN_TEXT = "these limits";

    private final Limits limits;
    private final Curves curves;

    Deciding(Limits limits, Curves curves) {
        this.limits = limits;
        this.curves = curves;
    }

    /** Checks a curve against a specification. */
    public CheckView check(CheckForm form) throws BadInputException, IOException {
        String name = form.specification();
        String yaml = form.yaml();
        if ((name == null) == (yaml == null)) {
            throw new BadInputException((name == null ? "no limits are given" : "limits are given twice")
                    + "; give the name of a specification in the library, or a text");
        }
        Specification specification =
                name != null ? limits.named(name) : limits.read(yaml == null ? "" : yaml, OWN_TEXT);
        return CheckView.of(CheckCurve.decide(curves.stored(form.ref()).measurement(), specification));
    }

    /** Plans the loads of a session. */
    public PlanView plan(PlanForm form) throws BadInputException, IOException {
        PlanRequest request = form.request();
        PlanForm.Expected expected = form.wanted();
        String ref = expected.curve();
        boolean curveAlone = ref != null && expected.ohm() == null && expected.transducer() == null;
        return PlanView.of(
                ref != null && curveAlone
                        ? PlanLoads.run(request, ExpectedSource.of(curves.stored(ref)))
                        : PlanLoads.run(request));
    }

    /** What has to be read before anything is connected or played. */
    public CautionsView cautions() {
        return new CautionsView(Cautions.all());
    }

    /**
     * The cautions of the trade.
     *
     * @param cautions one sentence group each
     */
    public record CautionsView(List<String> cautions) {}
}
