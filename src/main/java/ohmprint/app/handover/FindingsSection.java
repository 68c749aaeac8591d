package ohmprint.app.handover;

import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.Finding;
import ohmprint.curve.Measurement;
import ohmprint.curve.MinusSign;
import ohmprint.report.Sheet.Block;
import ohmprint.report.Sheet.Notice;
import ohmprint.report.Sheet.Section;
import ohmprint.report.Sheet.Tone;
import ohmprint.report.Sheet.Words;

/** What was noticed about the takes, and the cautions of the trade. */
final class FindingsSection {
    private static final List<String> CAUTIONS = List.of(
            "Phantom power off and discharged before a load, a patch or a ribbon is connected. Loads go across pins 2 and 3,"
                    + " never to pin 1. A passive ribbon can be destroyed.",
            "No ohmmeter on a ribbon or its transformer; never blow on a ribbon.",
            "Sweeps are loud: keep levels and times down, protect your hearing.",
            "Valve supplies carry over 100 V, and capacitors stay charged; mains equipment is for qualified people. Local"
                    + " codes and licensed practice come first.");

    private FindingsSection() {}

    static Section of(Measurement m) {
        List<Block> blocks = new ArrayList<>();
        if (m.findings().isEmpty()) {
            blocks.add(new Words("Nothing was noticed about the takes."));
        }
        for (Finding f : m.findings()) {
            String take = f.take() == null ? "" : " (" + f.take() + ")";
            blocks.add(new Notice(
                    Tone.PLAIN, f.code().word() + take + ":", Phrases.sentence(MinusSign.inSentence(f.message()))));
        }
        return new Section("Findings", blocks);
    }

    static Section cautions() {
        return new Section(
                "Cautions", CAUTIONS.stream().map(c -> (Block) new Words(c)).toList());
    }
}
