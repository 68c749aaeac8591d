package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.match.Electronics;
import ohmprint.app.match.MatchCurve;
import ohmprint.app.match.MatchOutcome;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code match}: which input suits a microphone, and at what level. */
final class MatchCommand implements Command {
    /** Its name. */
    static final String NAME = "match";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Which input suits the microphone: loss, change of response, level and noise.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME)
                .addPositional(CommandText.argument(
                        0, "CURVE", "A curve.json, the folder of a result, or the session that holds it."));
        loads(spec);
        level(spec);
        spec.addOption(CommandText.value(
                        "--out", "DIR", "Write tables and pictures to this folder, all of them or none."))
                .addOption(CommandText.value("--theme", "THEME", "Pictures light or dark (default: light)."))
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description(
                        "Tells what each input takes from the microphone (loss in decibels, positive), how the"
                                + " response changes re 1 kHz, the tilt (greatest less least loss over the bands), the least load"
                                + " for a loss of 1 dB and for a tilt of 0.5 dB, and ten times the greatest impedance of the band."
                                + " With --sensitivity also level, gain and noise. Uncertainties are for 95 %%. Nothing is claimed"
                                + " outside the measured bands. Without inputs a variable load of 150 ohms to 40 kilohms is shown.")
                .footer("""

                        Example:
                          ohmprint match bench-ribbon-7 --load 1500 --load 3000:470 --cable 10 --cable-pf 90
                          ohmprint match bench-ribbon-7 --inputs workshop.yaml --sensitivity 1.2 --spl 80 --out match
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    private static void loads(CommandSpec spec) {
        spec.addOption(CommandText.values(
                        "--load", "OHM[:PF]", "An input by its ohms, with picofarads across it; may be repeated."))
                .addOption(CommandText.values(
                        "--input-curve", "FILE", "A measured input curve, a CSV file; may be repeated."))
                .addOption(CommandText.value("--inputs", "FILE", "A YAML file that lists inputs and boosters."))
                .addOption(CommandText.value("--cable", "M", "Length of the cable to each input in metres."))
                .addOption(CommandText.value("--cable-pf", "PF", "Its capacitance in picofarads per metre."))
                .addOption(CommandText.flag(
                        "--phantom-feeds", "Add the two 6.81 kilohms of a phantom supply to the inputs by option."))
                .addOption(CommandText.value("--from", "HZ", "Lowest frequency in hertz (default: 20)."))
                .addOption(CommandText.value("--to", "HZ", "Highest frequency in hertz (default: 20000)."));
    }

    private static void level(CommandSpec spec) {
        spec.addOption(CommandText.value(
                        "--sensitivity", "MV", "Open-circuit sensitivity in mV/Pa at 1 kHz: tells level and noise."))
                .addOption(CommandText.value(
                        "--sensitivity-tolerance", "DB", "Its tolerance in decibels to either side (default: 0)."))
                .addOption(CommandText.value("--spl", "DB", "Sound pressure level of the source (default: 94)."))
                .addOption(CommandText.value("--target", "DBU", "Level wanted behind the gain (default: 4)."))
                .addOption(CommandText.value("--gain", "DB", "Greatest gain behind the inputs by option."))
                .addOption(
                        CommandText.value("--ein", "DBU", "Their equivalent input noise, unweighted, 20 Hz to 20 kHz."))
                .addOption(CommandText.value(
                        "--ein-source",
                        "OHM",
                        "Resistor that it was measured with, 0 for a short (default: "
                                + Options.plain(Electronics.USUAL_EIN_SOURCE_OHM) + ")."))
                .addOption(CommandText.value("--voltage-noise", "NV", "Instead: their voltage noise in nV/√Hz."))
                .addOption(CommandText.value("--current-noise", "PA", "Their current noise in pA/√Hz."))
                .addOption(CommandText.value(
                        "--booster", "OHM", "Input resistance of a booster before each input; needs --booster-gain."))
                .addOption(CommandText.value("--booster-gain", "DB", "Its gain."))
                .addOption(CommandText.value("--booster-output", "OHM", "Its output resistance (default: 0)."))
                .addOption(CommandText.value("--booster-noise", "NV", "Its voltage noise in nV/√Hz."))
                .addOption(CommandText.value("--celsius", "DEGREES", "Temperature (default: 20)."));
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        MatchOutcome outcome = MatchCurve.run(MatchOptions.request(given));
        console.tell(outcome.findings());
        if (given.hasMatchedOption("--json")) {
            MatchJson.print(outcome, console.out());
        } else {
            MatchSummary.print(outcome, console.out());
        }
        return ExitCode.DONE;
    }
}
