package ohmprint.app.audition;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.audiofile.WavEncoding;
import ohmprint.circuit.Load;
import ohmprint.circuit.ModelCurves;
import ohmprint.circuit.SourceModel;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A take rendered for another load is the take that this load would have given: both are computed from one circuit. */
@Tag("slow")
class AuditionTakeTest extends TakeForAnotherLoad {
    @ParameterizedTest
    @CsvSource({
        "coil, 44100, 0.05",
        "coil, 48000, 0.05",
        "coil, 96000, 0.05",
        "ribbon, 44100, 0.05",
        "active, 48000, 0.05",
    })
    void aTakeThrough150OhmsBecomesTheOpenTake(String microphone, int rate, double mostDb) throws Exception {
        SourceModel source = source(microphone);
        Performance performance = new Performance(rate, 4, 5);
        Path take = Performance.write(
                folder.resolve("take.wav"), rate, WavEncoding.PCM_24, performance.through(source, LOW));
        run(request(take, source, LOW, Load.open()));
        double[] rendered = Performance.read(out())[0];
        Difference difference = Difference.of(rendered, performance.through(source, Load.open()), rate, 50, 15_000);
        assertThat(difference.levelDb()).isLessThan(mostDb);
        assertThat(difference.residualDb()).isLessThan(-50);
    }

    @Test
    void openTakeBecomesTheLoadedOneToo() throws Exception {
        Performance performance = new Performance(RATE, 5, 6);
        double[] open = performance.through(RIBBON, Load.open());
        Path take = Performance.write(folder.resolve("take.wav"), RATE, WavEncoding.FLOAT_32, open);
        run(request(take, RIBBON, Load.open(), LOW));
        Difference difference =
                Difference.of(Performance.read(out())[0], performance.through(RIBBON, LOW), RATE, 50, 15_000);
        assertThat(difference.levelDb()).isLessThan(0.05);
        assertThat(difference.residualDb()).isLessThan(-50);
    }

    @Test
    void theSameLoadLeavesTheTakeAsItIs() throws Exception {
        double[] sound = new Performance(RATE, 3, 7).through(COIL, LOW);
        Path take = Performance.write(folder.resolve("take.wav"), RATE, WavEncoding.FLOAT_64, sound);
        run(request(take, COIL, LOW, LOW));
        double[] rendered = Performance.read(out())[0];
        assertThat(rendered).hasSameSizeAs(sound);
        for (int i = 0; i < sound.length; i++) {
            assertThat(rendered[i]).isEqualTo(sound[i], within(1e-7));
        }
    }

    @Test
    void aCurveInParallelWithItsInputNeedsNone() throws Exception {
        SourceModel parallel = hz -> COIL.impedance(hz)
                .reciprocal()
                .add(new org.apache.commons.math3.complex.Complex(
                        1 / Performance.INPUT_OHM, 2 * Math.PI * hz * Performance.INPUT_PF * 1e-12))
                .reciprocal();
        FrequencyBands bands = FrequencyBands.within(12, 20, 20_000);
        ImpedanceCurve curve =
                new ImpedanceCurve(bands, ModelCurves.exact(parallel, bands).values(), true);
        Performance performance = new Performance(RATE, 4, 12);
        Path take =
                Performance.write(folder.resolve("take.wav"), RATE, WavEncoding.PCM_24, performance.through(COIL, LOW));
        AuditionRequest stated = request(take, curve, LOW, Load.open());
        assertThatThrownBy(() -> run(stated))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("leave the input out");
        run(new AuditionRequest(
                take,
                stated.curve(),
                new AuditionRequest.Side(LOW, null, 0),
                new AuditionRequest.Side(Load.open(), null, 0),
                null,
                false,
                out(),
                null));
        Difference difference =
                Difference.of(Performance.read(out())[0], performance.through(COIL, Load.open()), RATE, 50, 15_000);
        assertThat(difference.residualDb()).isLessThan(-50);
    }
}
