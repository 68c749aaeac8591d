package ohmprint.app.record;

import java.util.ArrayList;
import java.util.List;
import ohmprint.circuit.Load;
import ohmprint.session.Session;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/**
 * What is settled for all takes of a session and not in its manifest.
 *
 * @param loads loads of all takes in order, a repeated one among them
 * @param inputDevice name of the recording device, or null for the system's usual one
 * @param outputDevice name of the playing device, or null likewise
 * @param rate sample rate in hertz
 * @param channels channels that are opened
 * @param channel channel of the microphone, from 1
 * @param referenceChannel channel of the reference, or null
 * @param leadSeconds silence before the sound
 * @param tailSeconds silence after it
 * @param expectedOhm expected impedance in ohms, or null
 */
record Setup(
        List<Load> loads,
        @Nullable String inputDevice,
        @Nullable String outputDevice,
        int rate,
        int channels,
        int channel,
        @Nullable Integer referenceChannel,
        double leadSeconds,
        double tailSeconds,
        @Nullable Double expectedOhm) {
    static final double LEAD_SECONDS = 1;
    static final double TAIL_SECONDS = 0.7;

    Setup {
        loads = List.copyOf(loads);
    }

    /** The loads that have no take yet: each take of the session stands for one load of its value. */
    List<Load> remaining(Session session) {
        List<Double> done = new ArrayList<>(
                session.takes().stream().map(t -> t.load().ohm()).toList());
        List<Load> out = new ArrayList<>();
        for (Load load : loads) {
            if (!done.remove((Double) load.ohm())) {
                out.add(load);
            }
        }
        return out;
    }

    /** The highest load, with which the level is set. */
    Load highest() {
        return loads.stream()
                .max(java.util.Comparator.comparingDouble(Load::ohm))
                .orElseThrow();
    }

    /** The entry of a take. */
    Take take(String file, Load load, java.time.OffsetDateTime time) {
        return new Take(file, load).onChannels(channel, referenceChannel).at(time);
    }
}
