package ohmprint.app.handover;

import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.Measurement;
import ohmprint.curve.Provenance;
import ohmprint.curve.Provenance.TakeOrigin;
import ohmprint.report.Sheet.Block;
import ohmprint.report.Sheet.Fact;
import ohmprint.report.Sheet.Facts;
import ohmprint.report.Sheet.Section;
import ohmprint.report.Sheet.Table;
import ohmprint.report.Sheet.Words;

/** How it was measured, enough to repeat it. */
final class MethodSection {
    private static final int FINGERPRINT_DIGITS = 64;

    private MethodSection() {}

    static Section of(Measurement m) {
        Provenance p = m.provenance();
        List<Block> blocks = new ArrayList<>();
        blocks.add(new Words(
                "The same sound was recorded through known resistors across the microphone. How the voltage falls with the"
                        + " load gives the source impedance; what the loudspeaker, the room and the recorder do to the"
                        + " sound drops out."));
        List<Fact> facts = new ArrayList<>();
        String reason = m.routeReason().isBlank() ? "" : ": " + m.routeReason();
        facts.add(new Fact("Compared with", m.route().word() + reason));
        facts.add(new Fact("Recording input", p.input()));
        facts.add(new Fact("Computed", p.computedAt() + " by ohmprint " + p.programVersion()));
        if (p.stimulus() != null) {
            facts.add(new Fact("Sound played", p.stimulus().file()));
            facts.add(new Fact("its SHA-256", fingerprint(p.stimulus().sha256())));
        }
        blocks.add(new Facts(facts));
        blocks.add(new Table(
                "Takes",
                List.of("Take", "Load", "SHA-256"),
                p.takes().stream().map(MethodSection::take).toList()));
        return new Section("How it was measured", blocks);
    }

    private static List<String> take(TakeOrigin take) {
        String load = take.loadOhm() == Double.POSITIVE_INFINITY
                ? "open"
                : Phrases.plain(take.loadOhm()) + " Ω ± " + Phrases.plain(take.loadTolerancePercent()) + " %";
        return List.of(
                take.file().file(),
                take.leftOut() ? load + " (left out)" : load,
                fingerprint(take.file().sha256()));
    }

    /** In groups of sixteen, so that lines can break. */
    private static String fingerprint(String sha256) {
        if (sha256.length() != FINGERPRINT_DIGITS) {
            return sha256;
        }
        return String.join(" ", sha256.split("(?<=\\G.{16})"));
    }
}
