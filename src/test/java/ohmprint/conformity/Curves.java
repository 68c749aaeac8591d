package ohmprint.conformity;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import ohmprint.conformity.Specification.AppliesTo;
import ohmprint.conformity.Specification.MaskRange;
import ohmprint.conformity.Specification.RatedImpedance;
import ohmprint.conformity.Specification.ResonanceWindow;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Microphone;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SampleMeasurements;
import ohmprint.impedance.Usability;
import ohmprint.uncertainty.CoverageFactor;

/** Invented curves: |Z| as a function of frequency, all resistive, with a given uncertainty. */
public final class Curves {
    /** Twelfth octaves from 20 Hz to 20 kHz: 120 bands. */
    static final FrequencyBands BANDS = FrequencyBands.within(12, 20, 20000);

    private Curves() {}

    /** A value with the standard uncertainty u in ohms; U95 is the coverage factor times u. */
    static BandValue value(double hz, double ohm, double u, double coverage) {
        return BandValue.complex(
                hz, ohm, 0, PlaneCovariance.circular(u), coverage * u, 0.01, 60, new BandBudget(u, 0, 0, 0, 0));
    }

    /** A curve whose every band has the same relative standard uncertainty in percent. */
    static ImpedanceCurve curve(DoubleUnaryOperator ohm, double uPercent) {
        return curve(BANDS, ohm, uPercent);
    }

    static ImpedanceCurve curve(FrequencyBands bands, DoubleUnaryOperator ohm, double uPercent) {
        List<BandValue> values = new ArrayList<>();
        for (int i = 0; i < bands.size(); i++) {
            double z = ohm.applyAsDouble(bands.midband(i));
            values.add(value(bands.midband(i), z, z * uPercent / 100, CoverageFactor.NORMAL));
        }
        return new ImpedanceCurve(bands, values, false);
    }

    /** The same curve with other values in some bands. */
    static ImpedanceCurve with(ImpedanceCurve curve, double fromHz, double toHz, DoubleToBand other) {
        List<BandValue> values = new ArrayList<>();
        for (BandValue v : curve.values()) {
            boolean there = v.frequencyHz() >= fromHz && v.frequencyHz() <= toHz;
            values.add(there ? other.of(v.frequencyHz()) : v);
        }
        return new ImpedanceCurve(curve.bands(), values, curve.parallelWithInput());
    }

    /** Makes a band. */
    interface DoubleToBand {
        BandValue of(double hz);
    }

    /** A usable measurement of a ribbon. */
    public static Measurement ribbon(ImpedanceCurve curve) {
        return measurement(curve, "ribbon", Usability.USABLE);
    }

    static Measurement measurement(ImpedanceCurve curve, String transducer, Usability usability) {
        Measurement sample = SampleMeasurements.movingCoil();
        return new Measurement(
                new Microphone("Bench 7", "Hollow Elm Audio", "HE-2", "0042", transducer, null, null, null),
                curve,
                sample.route(),
                sample.routeReason(),
                usability,
                List.of(),
                sample.provenance());
    }

    static Specification rated(double ohm, double tolerancePercent) {
        return new Specification(
                "rated", null, AppliesTo.ALL, new RatedImpedance(ohm, tolerancePercent, 1000), List.of(), null, null);
    }

    static Specification mask(MaskRange... ranges) {
        return new Specification("mask", null, AppliesTo.ALL, null, List.of(ranges), null, null);
    }

    static Specification resonance(ResonanceWindow window) {
        return new Specification("resonance", null, AppliesTo.ALL, null, List.of(), window, null);
    }
}
