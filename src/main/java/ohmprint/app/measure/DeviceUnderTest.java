package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.List;
import ohmprint.circuit.Dual;
import ohmprint.circuit.Load;
import ohmprint.estimation.CurveEstimate;
import ohmprint.estimation.LoadedTakes;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CauseOrigin;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.ImpedanceCurve.Side;
import ohmprint.impedance.ImpedanceOutline;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SharedCause;
import ohmprint.text.Numbers;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/** What a session measures: how its parts are called, and what the solved impedance means there. */
public enum DeviceUnderTest {
    /** The source impedance of a microphone, through loads in parallel. */
    MICROPHONE,
    /** The input impedance of a preamplifier, through resistors in series; solved as its {@link Dual}. */
    INPUT;

    /** The curve that follows from what was solved. */
    ImpedanceCurve curve(CurveEstimate solved, LoadedTakes takes) {
        boolean known = takes.input().isKnown();
        if (this == MICROPHONE) {
            return new ImpedanceCurve(
                    solved.bands(), solved.values(), !known, solved.covariance(), Side.SOURCE, solved.consistency());
        }
        List<BandValue> values =
                solved.values().stream().map(DeviceUnderTest::input).toList();
        return new ImpedanceCurve(
                solved.bands(),
                values,
                !known,
                covariance(solved.covariance(), solved.values(), takes),
                Side.INPUT,
                solved.consistency());
    }

    /** Ohms of a solved load or magnitude as the user knows them. */
    double ohm(double solvedOhm) {
        return this == MICROPHONE ? solvedOhm : Dual.ohm(solvedOhm);
    }

    /** An ohm value with three significant digits. */
    static String ohms(double ohm) {
        if (Double.isInfinite(ohm)) {
            return "no resistor (open)";
        }
        return Numbers.digits(ohm, 3) + " Ω";
    }

    /** A resistor as the user knows it. */
    String label(Load load) {
        if (this == MICROPHONE) {
            return load.label();
        }
        return load.isOpen() ? "no resistor" : ohms(Dual.ohm(load.ohm()));
    }

    /** One of the resistors. */
    String resistor() {
        return this == MICROPHONE ? "load" : "series resistor";
    }

    /** What the result holds besides when the other end is not known. */
    Finding otherEndUnknown() {
        return (this == MICROPHONE ? Wording.UNKNOWN_INPUT : Wording.UNKNOWN_GENERATOR).of(null);
    }

    /** {@code R_0²/Z} with its uncertainties: relative ones stay, the phase changes sign. */
    private static BandValue input(BandValue v) {
        double scale = Dual.ohm(v.magnitudeOhm()) / v.magnitudeOhm();
        if (v.status() == BandStatus.INTERVAL) {
            return BandValue.interval(
                    v.frequencyHz(), Dual.ohm(v.magnitudeHighOhm()), Dual.ohm(v.magnitudeLowOhm()), v.snrDb());
        }
        BandBudget budget = v.budget();
        if (!v.isMeasured() || budget == null) {
            return v;
        }
        BandBudget scaled = budget.times(scale);
        PlaneCovariance covariance = v.covariance();
        if (covariance == null) {
            return BandValue.magnitudeOnly(
                    v.frequencyHz(),
                    Dual.ohm(v.magnitudeOhm()),
                    scale * v.resistanceOhm(),
                    scale * v.magnitudeU95Ohm(),
                    v.snrDb(),
                    scaled,
                    turned(v.outline()));
        }
        Complex z = Dual.ohms(new Complex(v.resistanceOhm(), v.reactanceOhm()));
        BandValue turned = BandValue.complex(
                v.frequencyHz(),
                z.getReal(),
                z.getImaginary(),
                turned(covariance, v),
                scale * v.magnitudeU95Ohm(),
                v.phaseU95Rad(),
                v.snrDb(),
                scaled);
        return v.byDraws() ? turned.withDrawn(turned.magnitudeU95Ohm(), turned.phaseU95Rad()) : turned;
    }

    /** Points of the other side: {@code R_0²·R/|Z|²} and {@code R_0²/|Z|}. */
    private static @Nullable ImpedanceOutline turned(@Nullable ImpedanceOutline outline) {
        if (outline == null) {
            return null;
        }
        List<Double> resistance = new ArrayList<>();
        List<Double> magnitude = new ArrayList<>();
        for (int i = 0; i < outline.magnitudeOhm().size(); i++) {
            double ohm = outline.magnitudeOhm().get(i);
            magnitude.add(Dual.ohm(ohm));
            resistance.add(Dual.ohm(ohm) / ohm * outline.resistanceOhm().get(i));
        }
        return new ImpedanceOutline(resistance, magnitude);
    }

    /** {@code d(R_0²/Z)/dZ = −R_0²/Z²}. */
    private static Complex slope(BandValue v) {
        Complex z = new Complex(v.resistanceOhm(), v.reactanceOhm());
        return Dual.ohms(z.multiply(z)).negate();
    }

    /** {@code J·C·Jᵀ} for the multiplication by {@link #slope}. */
    private static PlaneCovariance turned(PlaneCovariance c, BandValue v) {
        Complex s = slope(v);
        double a = s.getReal();
        double b = s.getImaginary();
        return new PlaneCovariance(
                a * a * c.varR() - 2 * a * b * c.covRX() + b * b * c.varX(),
                b * b * c.varR() + 2 * a * b * c.covRX() + a * a * c.varX(),
                a * b * (c.varR() - c.varX()) + (a * a - b * b) * c.covRX());
    }

    /** What a cause of the solved circuit is in the measured one. */
    private static String name(SharedCause cause, LoadedTakes takes) {
        if (cause.origin() == CauseOrigin.INPUT) {
            return "resistance of the generator";
        }
        return takes.loads().stream()
                .filter(load ->
                        cause.origin() == CauseOrigin.LOADS && cause.name().endsWith(" " + load.label()))
                .findFirst()
                .map(load -> "series resistor of " + INPUT.label(load))
                .orElse(cause.name());
    }

    private static @Nullable CurveCovariance covariance(
            @Nullable CurveCovariance solved, List<BandValue> values, LoadedTakes takes) {
        if (solved == null) {
            return null;
        }
        List<@Nullable PlaneCovariance> noise = new ArrayList<>();
        for (int b = 0; b < values.size(); b++) {
            PlaneCovariance own = solved.noise(b);
            noise.add(own == null ? null : turned(own, values.get(b)));
        }
        List<SharedCause> causes = new ArrayList<>();
        for (SharedCause cause : solved.causes()) {
            double[] dR = new double[values.size()];
            double[] dX = new double[values.size()];
            for (int b = 0; b < values.size(); b++) {
                Complex d = new Complex(cause.resistanceOhm(b), cause.reactanceOhm(b)).multiply(slope(values.get(b)));
                dR[b] = solved.noise(b) == null ? Double.NaN : d.getReal();
                dX[b] = solved.noise(b) == null ? Double.NaN : d.getImaginary();
            }
            causes.add(SharedCause.ofOhms(name(cause, takes), cause.origin(), dR, dX));
        }
        return CurveCovariance.of(causes, noise);
    }
}
