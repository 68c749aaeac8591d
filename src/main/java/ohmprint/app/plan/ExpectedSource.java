package ohmprint.app.plan;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.circuit.Load;
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.CapacitorCoupled;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;
import ohmprint.circuit.SourceModel.RibbonTransformer;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.Measurement;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.interpolation.LinearInterpolator;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * The impedance that a session is expected to meet.
 *
 * @param label in words
 * @param source Z(f)
 * @param lowestHz lowest midband that it is known for, or null when it is for all
 * @param highestHz highest midband that it is known for, or null likewise
 * @param minimumLoadOhm smallest load that the maker allows, or null
 * @param notes what to know about it
 */
public record ExpectedSource(
        String label,
        SourceModel source,
        @Nullable Double lowestHz,
        @Nullable Double highestHz,
        @Nullable Double minimumLoadOhm,
        List<String> notes) {
    /** Values of parts as they are usual: common practice, no source. */
    private static final SourceModel COIL =
            new MovingCoil(200, new LossyInductor(0.004, 0.9), Resonance.ofPeak(120, 150, 1));

    private static final SourceModel RIBBON =
            new RibbonTransformer(0.001, 1.369, 0.9995, 0.2, 20, 10e-6, 0, Resonance.ofPeak(0.1, 45, 2));
    private static final SourceModel CONDENSER = new CapacitorCoupled(75, 22e-6);

    /**
     * What was expected.
     *
     * @throws BadInputException if it is stated in no way or in several, or cannot be read
     */
    public static ExpectedSource of(PlanRequest.Expected expected) throws BadInputException, IOException {
        Double ohm = expected.impedanceOhm();
        String transducer = expected.transducer();
        String curve = expected.curve();
        int ways = (ohm == null ? 0 : 1) + (transducer == null ? 0 : 1) + (curve == null ? 0 : 1);
        if (ways != 1) {
            throw new BadInputException("the expected impedance is stated in " + ways
                    + " ways; give one of an impedance in ohms, a transducer, or a curve");
        }
        if (ohm != null) {
            return ofOhms(ohm);
        }
        return transducer != null ? ofTransducer(transducer) : ofCurve(Objects.requireNonNull(curve));
    }

    private static ExpectedSource ofOhms(double ohm) throws BadInputException {
        if (!(ohm > 0) || Double.isInfinite(ohm)) {
            throw new BadInputException("an expected impedance of " + ohm + " Ω is not possible; give ohms above 0");
        }
        return everywhere(Load.ofOhms(ohm, 0).label() + " at all frequencies", hz -> new Complex(ohm));
    }

    private static ExpectedSource ofTransducer(String transducer) throws BadInputException {
        return switch (transducer) {
            case "moving-coil" -> everywhere("a usual moving coil of 200 Ω with its resonance at 150 Hz", COIL);
            case "ribbon" -> everywhere("a usual ribbon with its transformer, 300 Ω", RIBBON);
            case "condenser" -> everywhere("a usual condenser behind capacitors, 75 Ω and 22 µF", CONDENSER);
            default ->
                throw new BadInputException(
                        "a transducer " + transducer + " is not known here; choose moving-coil, ribbon or condenser");
        };
    }

    private static ExpectedSource everywhere(String label, SourceModel source) {
        return new ExpectedSource(label, source, null, null, null, List.of());
    }

    private static ExpectedSource ofCurve(String reference) throws BadInputException, IOException {
        return of(NamedCurve.of(reference));
    }

    /**
     * The impedance of a curve that is at hand.
     *
     * @throws BadInputException if it holds too few values
     */
    public static ExpectedSource of(NamedCurve stored) throws BadInputException {
        Measurement measurement = stored.measurement();
        List<BandValue> values = measurement.curve().values().stream()
                .filter(v -> v.isMeasured() && v.magnitudeOhm() > 0)
                .toList();
        if (values.size() < 2) {
            throw new BadInputException(stored.name() + " holds a value in " + values.size()
                    + " bands; two are the least, give another curve");
        }
        List<String> notes = new ArrayList<>();
        if (measurement.curve().parallelWithInput()) {
            notes.add("The expected curve is that of the source in parallel with an input, and so too low.");
        }
        if (values.size() < measurement.curve().values().size()) {
            notes.add("The expected curve has bands without a value; they are bridged.");
        }
        return new ExpectedSource(
                measurement.microphone().label() + ", as in " + stored.name(),
                interpolated(values),
                values.get(0).frequencyHz(),
                values.get(values.size() - 1).frequencyHz(),
                measurement.microphone().ratedMinimumLoadOhm(),
                notes);
    }

    /**
     * ln|Z| and phase linear over ln f as {@link ohmprint.impedance.ImpedanceCurve#at} has them, across gaps too, and the outermost values
     * beyond them; where X is not known, √(|Z|² − R²).
     */
    private static SourceModel interpolated(List<BandValue> values) {
        double[] x = values.stream().mapToDouble(v -> Math.log(v.frequencyHz())).toArray();
        double[] log =
                values.stream().mapToDouble(v -> Math.log(v.magnitudeOhm())).toArray();
        double[] phase = values.stream()
                .mapToDouble(v -> Math.atan2(reactance(v), v.resistanceOhm()))
                .toArray();
        for (int i = 1; i < phase.length; i++) {
            phase[i] = phase[i - 1] + Math.IEEEremainder(phase[i] - phase[i - 1], 2 * Math.PI);
        }
        UnivariateFunction re = new LinearInterpolator().interpolate(x, log);
        UnivariateFunction im = new LinearInterpolator().interpolate(x, phase);
        return hz -> {
            double at = Math.min(x[x.length - 1], Math.max(x[0], Math.log(hz)));
            return new Complex(0, im.value(at)).exp().multiply(Math.exp(re.value(at)));
        };
    }

    private static double reactance(BandValue v) {
        double square = v.magnitudeOhm() * v.magnitudeOhm() - v.resistanceOhm() * v.resistanceOhm();
        return Double.isNaN(v.reactanceOhm()) ? Math.sqrt(Math.max(0, square)) : v.reactanceOhm();
    }
}
