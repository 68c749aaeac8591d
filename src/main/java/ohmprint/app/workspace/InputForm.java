package ohmprint.app.workspace;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.PhantomFedInput;
import ohmprint.circuit.StatedInput;
import ohmprint.circuit.UnknownInput;
import ohmprint.manifest.ManifestException;
import ohmprint.session.Assumed;
import ohmprint.session.InputCurve;
import ohmprint.session.Session;
import org.jspecify.annotations.Nullable;

/**
 * The recording input of a session with its cable as it is filled in.
 *
 * @param resistanceOhm its resistance, or not known; null with a curve
 * @param resistanceTolerancePercent its tolerance in percent, or null for the usual one
 * @param capacitancePf its capacitance with the cable in picofarads, or null for none
 * @param curve file in the session's folder that holds its measured impedance, or null
 * @param addPhantomFeeds whether the feed resistors of a phantom supply lie across what is stated
 */
public record InputForm(
        @Nullable Ohms resistanceOhm,
        @Nullable Double resistanceTolerancePercent,
        @Nullable Double capacitancePf,
        @Nullable String curve,
        boolean addPhantomFeeds) {
    static InputForm of(Session session) {
        InputImpedance input = session.input();
        boolean fed = input instanceof PhantomFedInput;
        InputImpedance bare = input instanceof PhantomFedInput feeds ? feeds.bare() : input;
        if (bare instanceof StatedInput stated) {
            return new InputForm(new Ohms(stated.ohm()), stated.tolerancePercent(), stated.capacitancePf(), null, fed);
        }
        if (bare instanceof UnknownInput unknown) {
            return new InputForm(new Ohms(Double.NaN), null, unknown.capacitancePf(), null, fed);
        }
        return new InputForm(null, null, null, session.inputCurveFile(), fed);
    }

    /** The session with this input. What the form does not show, the tolerance of the capacitance, stays as it was. */
    Session into(Session session, Places places) throws BadInputException, IOException {
        String file = curve == null || curve.isBlank() ? null : curve.strip();
        InputImpedance bare = file == null ? stated(session.input()) : measured(session, places, file);
        try {
            return session.withInput(addPhantomFeeds ? bare.withPhantomFeeds() : bare, file);
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private InputImpedance stated(InputImpedance before) throws BadInputException {
        if (resistanceOhm == null || resistanceOhm.isOpen()) {
            throw new BadInputException("the recording input has no resistance; give it in ohms, or say that it is"
                    + " unknown, or name a measured curve");
        }
        double pf = capacitancePf == null ? 0 : capacitancePf;
        double pfTolerance = capacitanceTolerance(before);
        try {
            return resistanceOhm.isUnknown()
                    ? InputImpedance.unknownResistance(pf, pfTolerance)
                    : InputImpedance.ofOhms(
                            resistanceOhm.value(),
                            resistanceTolerancePercent == null
                                    ? Assumed.INPUT_TOLERANCE_PERCENT
                                    : resistanceTolerancePercent,
                            pf,
                            pfTolerance);
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private static double capacitanceTolerance(InputImpedance before) {
        InputImpedance bare = before instanceof PhantomFedInput feeds ? feeds.bare() : before;
        if (bare instanceof StatedInput stated && stated.capacitancePf() != 0) {
            return stated.capacitanceTolerancePercent();
        }
        return bare instanceof UnknownInput unknown && unknown.capacitancePf() != 0
                ? unknown.capacitanceTolerancePercent()
                : Assumed.INPUT_CAPACITANCE_TOLERANCE_PERCENT;
    }

    private static InputImpedance measured(Session session, Places places, String file)
            throws BadInputException, IOException {
        try {
            return InputCurve.read(places.existing(session.folder(), file));
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }
}
