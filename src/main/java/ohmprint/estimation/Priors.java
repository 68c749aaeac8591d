package ohmprint.estimation;

import java.util.ArrayList;
import java.util.List;
import ohmprint.circuit.Load;

/**
 * What is believed about gains and delays of the takes before looking at the residuals.
 *
 * @param gain standard uncertainty of ln g of every take
 * @param gainFreedom degrees of freedom that {@code gain} rests on; infinite where it counts as known
 * @param delaySeconds standard uncertainty of the residual delay of every take, seconds
 */
public record Priors(double gain, double gainFreedom, double delaySeconds) {
    /** What is believed of gains and delays whose scatter counts as known. */
    public Priors(double gain, double delaySeconds) {
        this(gain, Double.POSITIVE_INFINITY, delaySeconds);
    }

    /** All nuisances of a session that are not known exactly: gains, delays, resistors (one per distinct load) and the input's influences. */
    List<Nuisance> nuisances(LoadedTakes takes) {
        List<Nuisance> all = new ArrayList<>();
        for (int k = 0; k < takes.size(); k++) {
            if (gain != 0) {
                all.add(new Nuisance.Gain(k, gain));
            }
            if (delaySeconds != 0) {
                all.add(new Nuisance.Delay(k, delaySeconds));
            }
        }
        for (Load load : takes.loads().stream()
                .distinct()
                .filter(l -> l.relativeStandardUncertainty() != 0)
                .toList()) {
            boolean[] used = new boolean[takes.size()];
            for (int k = 0; k < used.length; k++) {
                used[k] = takes.loads().get(k).equals(load);
            }
            all.add(new Nuisance.Resistor(load, used));
        }
        int influences = takes.input().standardEffects(takes.input().lowestHz()).size();
        for (int i = 0; i < influences; i++) {
            all.add(new Nuisance.Input(i));
        }
        return all;
    }
}
