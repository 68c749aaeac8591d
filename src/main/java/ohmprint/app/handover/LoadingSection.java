package ohmprint.app.handover;

import java.util.ArrayList;
import java.util.List;
import ohmprint.app.match.LevelPrediction;
import ohmprint.app.match.LoadPrediction;
import ohmprint.app.match.MatchOutcome;
import ohmprint.app.match.MatchRequest;
import ohmprint.app.match.Matching;
import ohmprint.curve.PredictedValue;
import ohmprint.curve.Rounded;
import ohmprint.report.Sheet.Block;
import ohmprint.report.Sheet.Fact;
import ohmprint.report.Sheet.Facts;
import ohmprint.report.Sheet.Section;
import ohmprint.report.Sheet.Table;
import ohmprint.report.Sheet.Words;
import org.jspecify.annotations.Nullable;

/** What input the microphone wants, and what usual inputs do to it; level and noise where they were asked for. */
final class LoadingSection {
    /** Inputs as they are usual; common practice, no source. */
    static final double[] USUAL_OHMS = {600, 1500, 2000, 3000, 5000, 10_000};

    private LoadingSection() {}

    static Section inputs(MatchOutcome match) {
        List<Block> blocks = new ArrayList<>();
        List<Fact> facts = new ArrayList<>();
        facts.add(new Fact("Least load for a loss of 1 dB", least(match.leastForLoss())));
        PredictedValue ten = match.tenTimes();
        facts.add(new Fact(
                "Ten times the highest |Z|", Phrases.of(ten, "Ω") + " (at " + Rounded.frequency(ten.hz()) + ")"));
        facts.add(new Fact("Least load for a tilt of 0.5 dB", least(match.leastForTilt())));
        blocks.add(new Facts(facts));
        blocks.add(new Table(
                "What a load does, from " + Rounded.frequency(match.coverage().lowestHz()) + " to "
                        + Rounded.frequency(match.coverage().highestHz()),
                List.of("Input", "Greatest loss", "at", "Tilt", "Ten times"),
                match.inputs().stream().map(LoadingSection::row).toList()));
        blocks.add(new Words(
                "Common practice asks for ten times the source impedance in the whole band: 91 % of the voltage, a loss of"
                        + " 0.83 dB. Tilt is the greatest less the least loss. Outside the measured band nothing is"
                        + " claimed."));
        match.notes().forEach(n -> blocks.add(new Words(Phrases.sentence(n))));
        return new Section("Which input suits it", blocks);
    }

    private static List<String> row(LoadPrediction p) {
        return List.of(
                p.name(),
                Phrases.level(p.worstLoss(), "dB"),
                Rounded.frequency(p.worstLoss().hz()),
                Phrases.level(p.tilt(), "dB"),
                p.tenTimes().word());
    }

    private static String least(Matching.LeastResistance least) {
        return least.any() ? "any" : Phrases.of(least.ohm(), "Ω");
    }

    /** Level and noise, or null when they were not asked for. */
    static @Nullable Section levels(MatchOutcome match) {
        MatchRequest.Sound sound = match.request().sound();
        if (sound == null) {
            return null;
        }
        List<List<String>> rows = new ArrayList<>();
        for (LoadPrediction p : match.inputs()) {
            LevelPrediction level = p.level();
            if (level != null) {
                rows.add(List.of(
                        p.name(),
                        Phrases.level(level.levelDbu(), "dBu"),
                        Rounded.digits(level.millivolt().value(), 3) + " mV",
                        Phrases.level(level.neededGainDb(), "dB"),
                        Phrases.level(level.thermalDbu(), "dBu"),
                        Phrases.level(level.equivalentADb(), "dB")));
            }
        }
        List<String> columns = List.of("Input", "Level", "the same", "Gain needed", "Thermal noise", "Equivalent, A");
        boolean known =
                rows.stream().anyMatch(row -> !row.get(columns.size() - 1).equals(Rounded.NONE));
        int shown = known ? columns.size() : columns.size() - 1;
        return new Section(
                "Level and noise",
                List.of(new Table(
                        "Sensitivity " + Phrases.plain(sound.sensitivityMv()) + " mV/Pa, source of "
                                + Phrases.plain(sound.splDb()) + " dB SPL, gain for "
                                + Phrases.plain(sound.targetDbu())
                                + " dBu; thermal noise of microphone and load, without the amplifier's",
                        columns.subList(0, shown),
                        rows.stream().map(row -> row.subList(0, shown)).toList())));
    }
}
