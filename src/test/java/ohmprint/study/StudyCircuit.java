package ohmprint.study;

import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.CapacitorCoupled;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;
import ohmprint.circuit.SourceModel.RibbonTransformer;
import org.apache.commons.math3.complex.Complex;

/** Invented microphones of the usual kinds. */
enum StudyCircuit implements SourceModel {
    COIL_200("coil 200 Ω", new MovingCoil(185, LossyInductor.ofHenries(0.5e-3), Resonance.ofPeak(100, 150, 1.0))),
    COIL_300("coil 300 Ω, lossy", new MovingCoil(280, new LossyInductor(0.04, 0.7), Resonance.ofPeak(160, 150, 1.4))),
    COIL_600("coil 600 Ω", new MovingCoil(520, LossyInductor.ofHenries(3e-3), Resonance.ofPeak(260, 110, 1.2))),
    COIL_DAMPED(
            "coil 150 Ω, damped", new MovingCoil(150, LossyInductor.ofHenries(0.2e-3), Resonance.ofPeak(25, 200, 0.6))),
    RIBBON_270(
            "ribbon 270 Ω",
            new RibbonTransformer(1e-3, 1.369, 0.9999, 0.2, 18, 0, 1.5e-9, Resonance.ofPeak(0.07, 45, 2.5))),
    RIBBON_LEAKY(
            "ribbon 320 Ω, leaky",
            new RibbonTransformer(0.5e-3, 0.8, 0.9992, 0.2, 18, 0, 1.5e-9, Resonance.ofPeak(0.112, 60, 2.5))),
    ACTIVE_50("active 50 Ω", new CapacitorCoupled(50, 47e-6)),
    ACTIVE_100("active 100 Ω, small capacitor", new CapacitorCoupled(100, 10e-6));

    private static final double LOWEST_HZ = 30;
    private static final double HIGHEST_HZ = 17_000;
    private static final int LOOKED_AT = 400;

    private final String words;
    private final SourceModel source;

    StudyCircuit(String words, SourceModel source) {
        this.words = words;
        this.source = source;
    }

    /** For tables. */
    String words() {
        return words;
    }

    @Override
    public Complex impedance(double hz) {
        return source.impedance(hz);
    }

    /** |Z| at 1 kHz, ohms. */
    double nominalOhm() {
        return impedance(1000).abs();
    }

    /** Largest over smallest |Z| in the range of the study. */
    double variation() {
        double least = Double.POSITIVE_INFINITY;
        double most = 0;
        for (int i = 0; i <= LOOKED_AT; i++) {
            double z = impedance(LOWEST_HZ * Math.pow(HIGHEST_HZ / LOWEST_HZ, (double) i / LOOKED_AT))
                    .abs();
            least = Math.min(least, z);
            most = Math.max(most, z);
        }
        return most / least;
    }
}
