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
                Phrases.of(p.worstLoss(), "dB"),
                Rounded.frequency(p.worstLoss().hz()),
                Phrases.of(p.tilt(), "dB"),
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
                        Phrases.of(level.levelDbu(), "dBu"),
                        Phrases.of(level.millivolt(), "mV"),
                        Phrases.of(level.neededGainDb(), "dB"),
                        Phrases.of(level.thermalDbu(), "dBu"),
                        Phrases.of(level.penaltyDb(), "dB")));
            }
        }
        return new Section(
                "Level and noise",
                List.of(new Table(
                        "Sensitivity " + Rounded.digits(sound.sensitivityMv(), 3) + " mV/Pa, source of "
                                + Rounded.digits(sound.splDb(), 3) + " dB SPL, gain for "
                                + Rounded.digits(sound.targetDbu(), 2) + " dBu",
                        List.of("Input", "Level", "", "Gain needed", "Thermal noise", "Cost in noise"),
                        rows)));
    }
}
