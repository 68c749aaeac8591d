package ohmprint.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import java.util.Locale;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.app.record.DeviceList;
import ohmprint.app.record.DeviceList.Device;
import ohmprint.app.record.DeviceList.Format;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/**
 * {@code devices}: the sound devices and what they really do.
 *
 * @param useCase what tries them, {@link DeviceList#of}
 */
record DevicesCommand(Trying useCase) implements Command {
    /** Its name. */
    static final String NAME = "devices";

    /** Tries devices. */
    @FunctionalInterface
    interface Trying {
        /** See {@link DeviceList#of}. */
        DeviceList run(@Nullable String words, Progress progress) throws BadInputException;
    }

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Sound devices with the rates and channels that they really have.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME)
                .addOption(CommandText.value("--device", "NAME", "Only devices whose name holds this (default: all)."))
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description("Opens each device at each usual sample rate, lets it run for half a second in silence and"
                        + " measures the pace of the samples. A sound server accepts any rate and converts; where it tells"
                        + " at which rate it runs itself, other rates are listed as converted.")
                .footer("""

                        Example:
                          ohmprint devices --device usb
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        String words = Options.of(given).text("--device");
        DeviceList list = console.withProgress(progress -> useCase.run(words, progress));
        if (given.hasMatchedOption("--json")) {
            json(list, console.out());
        } else {
            list.devices().forEach(device -> print(device, console.out()));
        }
        return ExitCode.DONE;
    }

    private static void print(Device device, PrintWriter out) {
        out.println(OneLine.of(device.name() + "  (" + device.description() + ")"));
        print("records", device.inputs(), out);
        print("plays", device.outputs(), out);
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

    private static void json(DeviceList list, PrintWriter out) throws IOException {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.writeStartObject();
            json.writeArrayFieldStart("devices");
            for (Device device : list.devices()) {
                json.writeStartObject();
                json.writeStringField("name", device.name());
                json.writeStringField("description", device.description());
                formats(json, "inputs", device.inputs());
                formats(json, "outputs", device.outputs());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        }
        out.println(text);
    }

    private static void formats(JsonGenerator json, String key, List<Format> formats) throws IOException {
        json.writeArrayFieldStart(key);
        for (Format f : formats) {
            json.writeStartObject();
            json.writeNumberField("sample_rate_hz", f.rate());
            json.writeNumberField("channels", f.channels());
            json.writeNumberField("bits", f.bits());
            if (Double.isFinite(f.measuredRate())) {
                json.writeNumberField("measured_rate_hz", Math.round(f.measuredRate()));
            } else {
                json.writeNullField("measured_rate_hz");
            }
            Integer own = f.ownRate();
            if (own == null) {
                json.writeNullField("own_rate_hz");
            } else {
                json.writeNumberField("own_rate_hz", own);
            }
            json.writeStringField("verdict", f.verdict());
            json.writeBooleanField("usable", f.usable());
            json.writeEndObject();
        }
        json.writeEndArray();
    }
}
