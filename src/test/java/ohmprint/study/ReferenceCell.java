package ohmprint.study;

import java.util.List;
import java.util.Locale;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.estimate.LoadedTakes;
import ohmprint.estimate.Priors;

/**
 * One combination of the reference route whose takes are drawn sample by sample, each with noise of its own as its sound, so
 * that averaging in overlapping blocks and the noise of the reference channel count as they do at the bench.
 *
 * @param circuit what is measured
 * @param multiples loads as multiples of |Z| at 1 kHz
 * @param levelsDb level of the sound in each take, dB
 * @param seconds length of the sound
 * @param referenceSnrDb ratio of sound and noise in the reference channel of a take of 0 dB, dB
 * @param sessions how many sessions are drawn
 */
record ReferenceCell(
        StudyCircuit circuit,
        List<Double> multiples,
        List<Double> levelsDb,
        double seconds,
        double referenceSnrDb,
        int sessions) {
    /** Ratio of sound and noise in the microphone's channel of a take of 0 dB without a resistor, dB. */
    static final double MICROPHONE_SNR_DB = 60;

    /** Little, so that every value counts by itself: an error of a level is one for all bands of a session. */
    private static final double DRIFT = 0.00003;

    /** Short takes, of 2 to 11 blocks of the observer's 2 s, and a take that is quieter beside a noisy reference. */
    static List<ReferenceCell> all(int sessions) {
        List<Double> two = List.of(0.8, 8.0);
        List<Double> three = List.of(0.7, 2.0, 8.0);
        return List.of(
                new ReferenceCell(StudyCircuit.COIL_200, two, List.of(0.0, 0.0), 5, 30, sessions),
                new ReferenceCell(StudyCircuit.COIL_200, three, List.of(0.0, 0.0, 0.0), 8, 30, sessions),
                new ReferenceCell(StudyCircuit.RIBBON_LEAKY, two, List.of(0.0, 0.0), 12, 30, sessions),
                new ReferenceCell(StudyCircuit.ACTIVE_100, three, List.of(0.0, 0.0, 0.0), 20, 30, sessions),
                new ReferenceCell(StudyCircuit.COIL_200, two, List.of(0.0, -6.0), 30, 30, sessions),
                new ReferenceCell(StudyCircuit.COIL_300, three, List.of(0.0, -6.0, 0.0), 40, 30, sessions),
                new ReferenceCell(StudyCircuit.RIBBON_270, two, List.of(-12.0, 0.0), 20, 30, sessions));
    }

    /** The loads, exactly known. */
    LoadedTakes loads() {
        return new LoadedTakes(
                multiples.stream()
                        .map(m -> Load.ofOhms(m * circuit.nominalOhm(), 0))
                        .toList(),
                InputImpedance.ofOhms(3000, 0, 470, 0));
    }

    /** What is believed about the levels that the reference leaves, and what they are drawn from. */
    Priors priors() {
        return new Priors(DRIFT, 0);
    }

    /** Start of the random numbers of session {@code number}. */
    long seed(int number) {
        return name().hashCode() * 0x9E3779B97F4A7C15L + number;
    }

    /** All of it in one line. */
    String name() {
        return String.format(
                Locale.ROOT,
                "%s, %d loads, reference, takes of %.0f s at %s dB, reference %.0f dB",
                circuit.words(),
                multiples.size(),
                seconds,
                String.join(
                        "/",
                        levelsDb.stream()
                                .map(l -> String.format(Locale.ROOT, "%.0f", l))
                                .toList()),
                referenceSnrDb);
    }
}
