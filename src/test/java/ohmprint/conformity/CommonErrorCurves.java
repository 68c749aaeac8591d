package ohmprint.conformity;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.IntStream;
import ohmprint.conformity.Specification.MaskRange;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CauseOrigin;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SharedCause;
import ohmprint.uncertainty.CoverageFactor;

/** Curves whose bands have errors in common, and errors drawn for them. */
abstract class CommonErrorCurves extends DecidedCurves {
    static final double RATE = FamilywiseRates.SIDE_RATE;
    static final FrequencyBands BANDS = FrequencyBands.within(6, 200, 10_000);
    static final double U = 1.5;

    /** A resistive curve with the standard uncertainty {@link #U}, the given part of it common to all bands. */
    static ImpedanceCurve curve(DoubleUnaryOperator ohm, double common) {
        int n = BANDS.size();
        List<BandValue> values = new ArrayList<>();
        for (double hz : BANDS.midbands()) {
            values.add(Curves.value(hz, ohm.applyAsDouble(hz), U, CoverageFactor.NORMAL));
        }
        double[] shared = IntStream.range(0, n).mapToDouble(i -> U * common).toArray();
        PlaneCovariance own = PlaneCovariance.circular(U * Math.sqrt(1 - common * common));
        return new ImpedanceCurve(
                BANDS,
                values,
                false,
                CurveCovariance.of(
                        List.of(SharedCause.ofOhms("level", CauseOrigin.DRIFT, shared, new double[n])),
                        Collections.nCopies(n, own)));
    }

    static ImpedanceCurve withoutCovariance(ImpedanceCurve curve) {
        return new ImpedanceCurve(curve.bands(), curve.values(), false);
    }

    static Specification mask(double low, double high) {
        return Curves.mask(new MaskRange(200, 10_000, low, high));
    }

    static double factor(Verdict verdict, int requirement) {
        BandCheck check = verdict.requirements().get(requirement).checks().get(0);
        return CoverageFactor.NORMAL * check.guardOhm() / check.u95Ohm();
    }

    /** An error of each band in ohms. */
    static double[] errors(double common, SplittableRandom random) {
        double shared = random.nextGaussian();
        return IntStream.range(0, BANDS.size())
                .mapToDouble(i -> U * (common * shared + Math.sqrt(1 - common * common) * random.nextGaussian()))
                .toArray();
    }

    /** Error of the band with this midband. */
    static double at(double[] error, double hz) {
        int b = 0;
        while (BANDS.midband(b) < hz * (1 - 1e-9)) {
            b++;
        }
        return error[b];
    }
}
