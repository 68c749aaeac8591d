package ohmprint.app.handover;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.app.check.CheckOutcome;
import ohmprint.report.Sheet.Block;
import ohmprint.report.Sheet.Notice;
import ohmprint.report.Sheet.Section;
import ohmprint.report.Sheet.Table;
import ohmprint.report.Sheet.Tone;
import ohmprint.report.Sheet.Words;

/** Whether a specification is met, and what may be behind it when it is not. */
final class SpecificationSection {
    private SpecificationSection() {}

    static Section of(CheckOutcome check) {
        List<Block> blocks = new ArrayList<>();
        blocks.add(new Notice(
                tone(check.verdict()),
                Phrases.capital(check.verdict()) + ".",
                "Specification: " + check.specificationName() + "."));
        for (CheckOutcome.Requirement r : check.requirements()) {
            List<String> sentences = new ArrayList<>();
            sentences.add(Phrases.sentence(r.requires()));
            r.findings().forEach(f -> sentences.add(Phrases.sentence(f)));
            blocks.add(new Notice(
                    tone(r.verdict()),
                    Phrases.capital(r.kind()) + ": " + r.verdict() + ".",
                    String.join(" ", sentences)));
        }
        check.reasons().forEach(r -> blocks.add(new Words(Phrases.sentence(r))));
        check.notes().forEach(r -> blocks.add(new Words(Phrases.sentence(r))));
        if (!check.causes().isEmpty()) {
            blocks.add(new Table(
                    "What is often behind such a pattern (common practice; confirm before you act on it)",
                    List.of("Pattern", "Cause", "Confirm by", "Caution"),
                    check.causes().stream()
                            .map(c -> List.of(c.pattern(), c.cause(), c.confirm(), c.caution()))
                            .toList()));
        }
        blocks.add(new Words(
                "Decided with guard bands of the 95 % uncertainty (JCGM 106:2012): within and outside are stated only where"
                        + " the uncertainty leaves no doubt, otherwise undecided."));
        return new Section("Specification", blocks);
    }

    private static Tone tone(String verdict) {
        return switch (verdict.toLowerCase(Locale.ROOT)) {
            case "within" -> Tone.GOOD;
            case "outside" -> Tone.BAD;
            default -> Tone.DOUBTFUL;
        };
    }
}
