package ohmprint.app.record;

import java.util.List;

/** What has to be read before anything is connected or played. */
public final class Cautions {
    private static final List<String> ALL = List.of(
            "Phantom power off and discharged before a load, a patch or a ribbon is connected; never patch with it on. Loads"
                    + " go across pins 2 and 3, never to pin 1. A passive ribbon can be destroyed.",
            "No ohmmeter on a ribbon or its transformer: its current stretches ribbons and magnetises cores. Never blow on a"
                    + " ribbon; loud low frequencies can overload it too.",
            "The sound will be loud. NIOSH recommends at most 8 hours a day at 85 dBA, 1 hour at 94 dBA, 15 minutes at 100"
                    + " dBA: begin with the volume down, wear hearing protection.",
            "Valve microphones: the supply carries more than 100 V, and capacitors stay charged. Mains equipment under repair"
                    + " needs an isolating transformer and a residual-current device; never lift the safety earth. This is work"
                    + " for qualified people.",
            "Local codes and licensed practice come first.");

    private Cautions() {}

    /** The cautions, one sentence group each. */
    public static List<String> all() {
        return ALL;
    }
}
