package ohmprint.golden;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.SampleMeasurements;
import ohmprint.web.OpenPage;

/** The sheet of {@code report}: of a session, an entry of the library, a comparison, a verdict, and of unusable takes. */
final class GoldenSheets {
    private static final String LIMITS = "fixtures/check/ribbon-300.yaml";

    private GoldenSheets() {}

    static void write(GoldenOutputs outputs, Path folder) throws IOException {
        CommandTranscript line = new CommandTranscript(outputs);
        Path session = OpenPage.copied(OpenPage.RIBBON, folder.resolve("ribbon"));
        Path workshop = Files.writeString(
                folder.resolve("workshop.yaml"), "version: 1\nname: Lark & Fen\naddress: [Mill Lane 3, Nether Sale]\n");
        String id = line.printed(
                "library-add",
                "library",
                "add",
                "fixtures/check/healthy.json",
                "--operator",
                "Ada Quill",
                "--library",
                folder.resolve("library.db"));
        for (String form : new String[] {"html", "pdf"}) {
            sheet(line, folder, "session", form, session, "--workshop", workshop, "--sensitivity", "1.2");
            sheet(
                    line,
                    folder,
                    "comparison",
                    form,
                    "fixtures/check/healthy.json",
                    "--compare",
                    "fixtures/check/shorted.json");
        }
        sheet(line, folder, "verdict", "html", "fixtures/check/shorted.json", "--spec", LIMITS);
        sheet(line, folder, "gaps", "html", curve(folder, "gaps", SampleMeasurements.ribbonWithGaps()));
        Path intervals = curve(folder, "intervals", SampleMeasurements.intervalsOnly());
        sheet(line, folder, "intervals", "html", intervals, "--spec", LIMITS);
        sheet(line, folder, "intervals", "pdf", intervals, "--paper", "letter", "--spec", LIMITS);
        Path power = folder.resolve("power");
        line.run("power-measured", "measure", session, "--route", "power", "--out", power);
        sheet(line, folder, "power", "html", power, "--json");
        // The page asks for the library of its workspace; a command takes it from the environment.
        try (OpenPage page = OpenPage.of(folder)) {
            PageTranscript asked = new PageTranscript(outputs, page.client());
            asked.get("entry", "/api/report?form=html&curve=library:" + id);
            asked.get("entry-pdf", "/api/report?curve=library:" + id + "&compared=session:ribbon");
        } catch (Exception e) {
            throw new IOException("the page cannot be asked", e);
        }
    }

    private static Path curve(Path folder, String name, Measurement measurement) throws IOException {
        return Files.writeString(folder.resolve(name + ".json"), CurveJson.write(measurement));
    }

    private static void sheet(
            CommandTranscript line, Path folder, String name, String form, Object subject, Object... more)
            throws IOException {
        Path out = folder.resolve(name + "." + form);
        Object[] words = new Object[4 + more.length];
        words[0] = "report";
        words[1] = subject;
        words[2] = "--out";
        words[3] = out;
        System.arraycopy(more, 0, words, 4, more.length);
        line.run(name + "-" + form, words);
        if (Files.exists(out)) {
            line.outputs().file(name + "." + form, Files.readAllBytes(out));
        }
    }
}
