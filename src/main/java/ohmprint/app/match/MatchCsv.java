package ohmprint.app.match;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import ohmprint.curve.PredictedValue;
import ohmprint.exchange.Numbers;

/**
 * The tables of a match. Numbers have nine digits and a decimal point; what is not determined is empty. A name that holds a
 * comma, a quote or a line end stands in quotes, with quotes doubled.
 */
final class MatchCsv {
    private static final String BANDS_HEADER = "set,input,frequency_hz,loss_db,loss_u95_db,loss_low_db,loss_high_db,"
            + "change_db,change_u95_db,change_low_db,change_high_db";

    private static final String INPUTS_HEADER = "set,input,load,load_ohm,worst_loss_db,worst_loss_u95_db,worst_loss_hz,"
            + "loss_1khz_db,loss_1khz_u95_db,tilt_db,tilt_u95_db,largest_change_db,largest_change_u95_db,"
            + "largest_change_hz,least_ratio,least_ratio_u95,least_ratio_hz,ten_times";

    private static final String LEVEL_HEADER = ",level_dbu,level_u95_db,level_mv,needed_gain_db,available_gain_db,"
            + "spare_gain_db,enough,thermal_noise_dbu,noise_dbu,noise_a_dbu,equivalent_noise_db,equivalent_noise_a_db,"
            + "equivalent_noise_a_u95_db,noise_penalty_db";

    private MatchCsv() {}

    /** One row per input and band, the variable load after the inputs. */
    static String bands(MatchOutcome outcome) {
        StringBuilder out = new StringBuilder(BANDS_HEADER).append('\n');
        outcome.inputs().forEach(p -> bands(out, "input", p));
        outcome.family().forEach(p -> bands(out, "variable", p));
        return out.toString();
    }

    private static void bands(StringBuilder out, String set, LoadPrediction p) {
        for (int i = 0; i < p.losses().size(); i++) {
            PredictedValue loss = p.losses().get(i);
            PredictedValue change = p.changes().get(i);
            row(
                    out,
                    Stream.concat(
                                    Stream.of(set, quoted(p.name())),
                                    numbers(
                                            loss.hz(),
                                            loss.value(),
                                            loss.u95(),
                                            loss.low(),
                                            loss.high(),
                                            change.value(),
                                            change.u95(),
                                            change.low(),
                                            change.high()))
                            .toList());
        }
    }

    /** One row per input, the variable load after the inputs. */
    static String inputs(MatchOutcome outcome) {
        boolean level = outcome.request().sound() != null;
        StringBuilder out = new StringBuilder(INPUTS_HEADER)
                .append(level ? LEVEL_HEADER : "")
                .append('\n');
        outcome.inputs().forEach(p -> input(out, "input", p));
        outcome.chains().forEach(p -> input(out, "chain", p));
        outcome.family().forEach(p -> input(out, "variable", p));
        return out.toString();
    }

    private static void input(StringBuilder out, String set, LoadPrediction p) {
        List<String> cells = new ArrayList<>(List.of(set, quoted(p.name()), quoted(p.load())));
        numbers(
                        p.loadOhm(),
                        p.worstLoss().value(),
                        p.worstLoss().u95(),
                        p.worstLoss().hz(),
                        p.lossAtReference().value(),
                        p.lossAtReference().u95(),
                        p.tilt().value(),
                        p.tilt().u95(),
                        p.largestChange().value(),
                        p.largestChange().u95(),
                        p.largestChange().hz(),
                        p.leastRatio().value(),
                        p.leastRatio().u95(),
                        p.leastRatio().hz())
                .forEach(cells::add);
        cells.add(p.tenTimes().word());
        LevelPrediction l = p.level();
        if (l != null) {
            Double gain = l.availableGainDb();
            numbers(
                            l.levelDbu().value(),
                            l.levelDbu().u95(),
                            l.millivolt().value(),
                            l.neededGainDb().value(),
                            gain == null ? Double.NaN : gain,
                            l.spareGainDb().value())
                    .forEach(cells::add);
            cells.add(l.enough().word());
            numbers(
                            l.thermalDbu().value(),
                            l.totalDbu().value(),
                            l.totalADbu().value(),
                            l.equivalentDb().value(),
                            l.equivalentADb().value(),
                            l.equivalentADb().u95(),
                            l.penaltyDb().value())
                    .forEach(cells::add);
        }
        row(out, cells);
    }

    private static Stream<String> numbers(double... values) {
        return Arrays.stream(values).mapToObj(Numbers::text);
    }

    private static void row(StringBuilder out, List<String> cells) {
        out.append(cells.stream().collect(Collectors.joining(","))).append('\n');
    }

    private static String quoted(String text) {
        String line = text.replaceAll("\\R", " ");
        return line.contains(",") || line.contains("\"") ? '"' + line.replace("\"", "\"\"") + '"' : line;
    }
}
