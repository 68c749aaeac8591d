package ohmprint.cli;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import ohmprint.app.match.Answer;
import ohmprint.app.match.LevelPrediction;
import ohmprint.app.match.LoadPrediction;
import ohmprint.app.match.MatchOutcome;
import ohmprint.app.match.MatchRequest;
import ohmprint.app.match.Matching;
import ohmprint.curve.PredictedValue;
import ohmprint.curve.Rounded;

/** A match for a reader at a terminal. */
final class MatchSummary {
    private static final int WIDEST_NAME = 40;

    private final MatchOutcome outcome;
    private final PrintWriter out;

    private MatchSummary(MatchOutcome outcome, PrintWriter out) {
        this.outcome = outcome;
        this.out = out;
    }

    /** Prints it: what holds for the microphone, a line per input, level and noise where asked for, notes. */
    static void print(MatchOutcome outcome, PrintWriter out) {
        new MatchSummary(outcome, out).print();
    }

    private void print() {
        line("microphone", OneLine.of(outcome.measurement().microphone().label()));
        line(
                "curve",
                OneLine.of(outcome.curve()) + ", "
                        + outcome.measurement().curve().quantity() + ", "
                        + outcome.measurement().usability().word());
        line("measured", range());
        across();
        line("ten times", PredictedText.ohms(outcome.tenTimes()) + at(outcome.tenTimes(), "the greatest impedance"));
        line(
                "least load",
                least(outcome.leastForLoss()) + " for a loss of 1 dB, " + least(outcome.leastForTilt())
                        + " for a tilt of 0.5 dB");
        out.println();
        List<LoadPrediction> shown = outcome.inputs().isEmpty() ? outcome.family() : outcome.inputs();
        loss(shown);
        if (outcome.request().sound() != null) {
            out.println();
            level(
                    outcome.request().sound(),
                    Stream.concat(shown.stream(), outcome.chains().stream()).toList());
        }
        out.println();
        outcome.notes().forEach(note -> out.println(OneLine.of(note)));
        if (outcome.folder() != null) {
            line("written", OneLine.of(outcome.folder() + ": " + String.join(", ", outcome.files())));
        }
    }

    private String range() {
        Matching.Coverage c = outcome.coverage();
        String bands = c.bands() - c.gaps() - c.bounded() + " of " + c.bands() + " bands with a value";
        return Rounded.frequency(c.lowestHz()) + " to " + Rounded.frequency(c.highestHz()) + ", " + bands;
    }

    private void across() {
        MatchRequest.Line line = outcome.request().line();
        List<String> parts = new ArrayList<>();
        if (line.cableMetres() * line.cablePfPerMetre() > 0) {
            parts.add("cable of " + Options.plain(line.cableMetres()) + " m with "
                    + Rounded.digits(line.cableMetres() * line.cablePfPerMetre(), 3) + " pF ± 20 %");
        }
        if (line.phantomFeeds()) {
            parts.add("phantom feeds of 13.62 kΩ (inputs by option)");
        }
        if (!parts.isEmpty()) {
            line("across", String.join(", ", parts));
        }
    }

    private void loss(List<LoadPrediction> shown) {
        List<String[]> rows = new ArrayList<>();
        rows.add(new String[] {
            "input",
            "worst loss dB",
            "at",
            "at 1 kHz dB",
            "tilt dB",
            "most re 1 kHz dB",
            "at",
            "least ratio",
            "ten times"
        });
        for (LoadPrediction p : shown) {
            rows.add(new String[] {
                name(p),
                PredictedText.of(p.worstLoss()),
                PredictedText.frequency(p.worstLoss()),
                PredictedText.of(p.lossAtReference()),
                PredictedText.of(p.tilt()),
                PredictedText.of(p.largestChange()),
                PredictedText.frequency(p.largestChange()),
                PredictedText.of(p.leastRatio()),
                answer(p.tenTimes())
            });
        }
        table(rows);
    }

    private void level(MatchRequest.Sound sound, List<LoadPrediction> shown) {
        out.println("Level at the input with " + Options.plain(sound.sensitivityMv()) + " mV/Pa, "
                + Options.plain(sound.splDb()) + " dB SPL, 1 kHz; gain for " + Options.plain(sound.targetDbu())
                + " dBu");
        List<String[]> rows = new ArrayList<>();
        rows.add(new String[] {"input", "level dBu", "mV", "gain needed dB", "there is dB", "spare dB", "enough"});
        List<String[]> noise = new ArrayList<>();
        noise.add(new String[] {
            "input", "thermal dBu", "with amplifier dBu", "equivalent dB SPL", "equivalent dB(A)", "cost of the load dB"
        });
        for (LoadPrediction p : shown) {
            LevelPrediction l = p.level();
            if (l != null) {
                Double gain = l.availableGainDb();
                rows.add(new String[] {
                    name(p),
                    PredictedText.tenths(l.levelDbu()),
                    PredictedText.millivolt(l.millivolt()),
                    PredictedText.tenths(l.neededGainDb()),
                    gain == null ? Rounded.NONE : PredictedText.tenths(PredictedValue.of(gain, 0, Double.NaN)),
                    PredictedText.tenths(l.spareGainDb()),
                    gain == null ? Rounded.NONE : answer(l.enough())
                });
                noise.add(new String[] {
                    name(p),
                    PredictedText.tenths(l.thermalDbu()),
                    PredictedText.tenths(l.totalDbu()),
                    PredictedText.tenths(l.equivalentDb()),
                    PredictedText.tenths(l.equivalentADb()),
                    PredictedText.tenths(l.penaltyDb())
                });
            }
        }
        table(rows);
        out.println();
        out.println("Noise at the input" + covered(shown));
        table(noise);
    }

    private static String covered(List<LoadPrediction> shown) {
        LevelPrediction first = shown.get(0).level();
        return first == null
                ? ""
                : ", counted over " + Rounded.digits(first.coveredHz() / 1000, 3) + " kHz of measured bands";
    }

    private void table(List<String[]> rows) {
        int[] width = new int[rows.get(0).length];
        rows.forEach(row -> {
            for (int i = 0; i < row.length; i++) {
                width[i] = Math.max(width[i], row[i].length());
            }
        });
        for (String[] row : rows) {
            StringBuilder line = new StringBuilder("  ");
            line.append(row[0]).append(" ".repeat(width[0] - row[0].length()));
            for (int i = 1; i < row.length; i++) {
                line.append("  ").append(" ".repeat(width[i] - row[i].length())).append(row[i]);
            }
            out.println(line.toString().stripTrailing());
        }
    }

    private static String name(LoadPrediction p) {
        String name = OneLine.of(p.name());
        return name.length() <= WIDEST_NAME ? name : name.substring(0, WIDEST_NAME - 1) + "…";
    }

    private static String answer(Answer answer) {
        return answer.word();
    }

    private static String at(PredictedValue p, String what) {
        return ", " + what + " is at " + PredictedText.frequency(p);
    }

    private static String least(Matching.LeastResistance least) {
        if (least.any()) {
            return "any";
        }
        if (!least.ohm().isValue() && !least.ohm().isBounded()) {
            return "none";
        }
        boolean open = Double.isInfinite(least.upToOhm()) || Double.isNaN(least.upToOhm());
        return PredictedText.ohms(least.ohm())
                + (open ? "" : " (and no more than " + Rounded.digits(least.upToOhm(), 3) + " Ω)");
    }

    private void line(String name, String text) {
        out.println(name + " ".repeat(12 - name.length()) + text);
    }
}
