package ohmprint.app.audition;

import java.io.IOException;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.circuit.Load;
import ohmprint.circuit.ModelCurves;
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.CapacitorCoupled;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;
import ohmprint.circuit.SourceModel.RibbonTransformer;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import org.junit.jupiter.api.io.TempDir;

/** Microphones of known circuits, and a take of each that is to be rendered for another load. */
abstract class TakeForAnotherLoad {
    static final int RATE = 44_100;
    static final Load LOW = Load.ofOhms(150, 0);

    static final SourceModel COIL = new MovingCoil(200, new LossyInductor(2e-3, 0.95), Resonance.ofPeak(100, 150, 1));
    static final SourceModel RIBBON =
            new RibbonTransformer(1e-3, 1.369, 0.9995, 0.2, 20, 0, 1e-9, Resonance.ofPeak(0.07, 48, 2.2));
    static final SourceModel ACTIVE = new CapacitorCoupled(75, 40e-6);

    @TempDir
    Path folder = Path.of(".");

    Path out() {
        return folder.resolve("open.wav");
    }

    AuditionRequest request(Path take, SourceModel source, Load from, Load to) throws IOException {
        return request(take, ModelCurves.exact(source, FrequencyBands.within(12, 20, 20_000)), from, to);
    }

    AuditionRequest request(Path take, ImpedanceCurve curve, Load from, Load to) throws IOException {
        String reference = Performance.curve(folder, ModelCurves.measurement("Bench ribbon 7", "ribbon", curve));
        return new AuditionRequest(
                take, reference, Performance.side(from), Performance.side(to), null, false, out(), null);
    }

    static AuditionOutcome run(AuditionRequest request) throws BadInputException, IOException {
        return AuditionTake.run(request, Progress.SILENT);
    }

    static SourceModel source(String name) {
        return switch (name) {
            case "coil" -> COIL;
            case "ribbon" -> RIBBON;
            default -> ACTIVE;
        };
    }
}
