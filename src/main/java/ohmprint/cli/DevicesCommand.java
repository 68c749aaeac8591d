package ohmprint.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import ohmprint.app.BadInputException;
import ohmprint.app.record.DeviceList;
import ohmprint.app.record.DeviceList.Device;
import ohmprint.app.record.DeviceList.Format;
import ohmprint.json.RecordingJson;

/** {@code devices}: the sound devices and what they really do. */
final class DevicesCommand extends Command {
    /** Its name. */
    static final String NAME = "devices";

    /** What it is for. */
    static final String HEADER = "Sound devices with the rates and channels that they really have.";

    private static final Parameter<String> DEVICE =
            Parameter.option("--device", "NAME", "Only devices whose name holds this (default: all).");

    private final UseCase<Optional<String>, DeviceList> useCase;

    /** A command that tries devices, all or those with a name, by {@link DeviceList#of} or, in tests, otherwise. */
    DevicesCommand(UseCase<Optional<String>, DeviceList> useCase) {
        super(
                NAME,
                HEADER,
                new Usage(
                        "Opens each device at each usual sample rate, lets it run for half a second in silence and"
                                + " measures the pace of the samples. A sound server accepts any rate and converts; where"
                                + " it tells at which rate it runs itself, other rates are listed as converted.",
                        Usage.example("devices --device usb") + Usage.EXIT_CODES,
                        DEVICE,
                        Parameter.JSON));
        this.useCase = useCase;
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        Optional<String> name = Optional.ofNullable(given.find(DEVICE));
        DeviceList list = console.withProgress(progress -> useCase.run(name, progress));
        if (given.has(Parameter.JSON)) {
            RecordingJson.devices(list).print(console.out());
        } else {
            for (Device device : list.devices()) {
                console.line(device.name() + "  (" + device.description() + ")");
                print("records", device.inputs(), console.out());
                print("plays", device.outputs(), console.out());
            }
        }
        return ExitCode.DONE;
    }

    private static void print(String what, List<Format> formats, PrintWriter out) {
        for (Format f : formats) {
            out.println(String.format(
                    Locale.ROOT,
                    "  %-8s %6d Hz  %2d %s  %s",
                    what,
                    f.rate(),
                    f.channels(),
                    f.channels() == 1 ? "channel " : "channels",
                    f.words()));
        }
    }
}
