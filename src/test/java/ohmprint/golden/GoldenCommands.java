package ohmprint.golden;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import ohmprint.app.input.InputBench;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.SampleMeasurements;
import ohmprint.web.OpenPage;

/** Commands with their help, their words, their JSON, what they write, and the usual mistakes. */
final class GoldenCommands {
    private static final List<String> COMMANDS = List.of(
            "demo",
            "plan",
            "devices",
            "stimulus",
            "record",
            "measure",
            "input",
            "check",
            "match",
            "circuit",
            "audition",
            "library",
            "report",
            "bench");
    private static final List<String> LIBRARY = List.of(
            "create",
            "add",
            "list",
            "show",
            "find",
            "compare",
            "spread",
            "export",
            "import",
            "backup",
            "verify",
            "supersede",
            "repaired",
            "remove");
    private static final String LIMITS = "fixtures/check/ribbon-300.yaml";
    private static final String HEALTHY = "fixtures/check/healthy.json";

    private final GoldenOutputs outputs;
    private final CommandTranscript line;
    private final Path work;

    private GoldenCommands(GoldenOutputs outputs, Path work) {
        this.outputs = outputs;
        this.line = new CommandTranscript(outputs);
        this.work = work;
    }

    static void write(GoldenOutputs outputs, Path work) throws IOException {
        GoldenCommands all = new GoldenCommands(outputs, work);
        all.help();
        all.mistakes();
        all.measure();
        all.manifests();
        all.input();
        all.curves();
        all.planAndStimulus();
        all.audition();
    }

    private void help() throws IOException {
        line.run("help", "--help");
        line.run("version", "--version");
        for (String command : COMMANDS) {
            line.run("help-" + command, command, "--help");
        }
        for (String command : LIBRARY) {
            line.run("help-library-" + command, "library", command, "--help");
        }
    }

    private void mistakes() throws IOException {
        line.run("none");
        line.run("unknown-command", "mesure");
        line.run("unknown-option", "measure", "x", "--bnads", "3");
        line.run("unknown-option-before", "--verbose", "measure");
        line.run("missing-argument", "measure");
        line.run("extra-argument", "measure", "a", "b");
        line.run("missing-value", "measure", "a", "--bands");
        line.run("value-for-flag", "measure", "a", "--json=yes");
        line.run("option-twice", "measure", "a", "--bands", "3", "--bands", "6");
        line.run("empty-argument", "measure", "");
        line.run("library-none", "library");
        line.run("library-unknown", "library", "lsit");
        line.run("bench-no-folder", "bench", "--workspace", work.resolve("none"), "--no-open");
        line.run("bench-bad-port", "bench", "--workspace", work, "--port", "70000", "--no-open");
        line.run("demo-not-empty", "demo", "--out", "fixtures");
        line.run("devices-extra", "devices", "x");
        line.run("record-bad", "record", work.resolve("new"), "--yes", "--label", "x");
    }

    private void measure() throws IOException {
        Path ribbon = OpenPage.copied(OpenPage.RIBBON, work.resolve("ribbon"));
        line.run("demo", "demo", "--out", work.resolve("demo"), "--json");
        line.run("measure-json", "measure", ribbon, "--json");
        line.run(
                "measure-again",
                "measure",
                ribbon.resolve("session.yaml"),
                "--bands",
                "3",
                "--from",
                "50",
                "--to",
                "5000");
        outputs.folder("measure-again", ribbon.resolve("result"));
        line.run("measure-carried", "measure", ribbon, "--shared-errors", "carried", "--bands", "1");
        line.run("measure-missing", "measure", work.resolve("no such session"));
        line.run("measure-bands", "measure", ribbon, "--bands", "5");
        line.run("measure-route", "measure", ribbon, "--route", "scenic");
        line.run("measure-range", "measure", ribbon, "--from", "5000", "--to", "50");
        line.run("measure-number", "measure", ribbon, "--from", "low");
        line.run("measure-shared", "measure", ribbon, "--shared-errors", "some");
        line.run("measure-out-file", "measure", ribbon, "--out", LIMITS);
        line.run("measure-out-strange", "measure", ribbon, "--out", "fixtures/check");
        Path unsupported = OpenPage.copied(OpenPage.RIBBON, work.resolve("unsupported"));
        Path manifest = unsupported.resolve("session.yaml");
        Files.writeString(manifest, Files.readString(manifest).replace("load_ohm: 220,", "load_ohm: 47000,"));
        line.run("measure-unsupported", "measure", unsupported);
        line.run("measure-unsupported-json", "measure", unsupported, "--json");
        line.run("measure-forced", "measure", unsupported, "--force", "--bands", "3");
        outputs.folder("measure-forced", unsupported.resolve("result"));
    }

    /** A session whose manifest says one thing wrong. */
    private void manifests() throws IOException {
        String sound = Files.readString(OpenPage.RIBBON.resolve("session.yaml"));
        manifest("yaml", sound.replace("takes:", "takes: ]"));
        manifest("version", sound.replace("version: 1", "version: 2"));
        manifest("key", sound.replace("microphone:", "microfone:").replace("channel: 1", "chanel: 1"));
        manifest("load", sound.replace("load_ohm: 2200", "load_ohm: much"));
        manifest("file", sound.replace("take-3.wav", "take-9.wav"));
        manifest("channel", sound.replace("channel: 1", "channel: 2"));
        manifest("one-take", sound.substring(0, sound.indexOf("  - {file: take-2.wav")));
        manifest("one-load", sound.replace("load_ohm: 2200", "load_ohm: 220"));
        manifest(
                "unknown-input",
                sound.replaceAll("resistance_ohm: 3300, resistance_tolerance_percent: 0.1", "resistance_ohm: unknown"));
        Path empty = Files.createDirectories(work.resolve("empty"));
        line.run("manifest-none", "measure", empty);
    }

    private void manifest(String name, String text) throws IOException {
        Path session = OpenPage.copied(OpenPage.RIBBON, work.resolve("manifest-" + name));
        Files.writeString(session.resolve("session.yaml"), text);
        line.run("manifest-" + name, "measure", session);
    }

    private void input() throws IOException {
        Path session = Files.createDirectories(work.resolve("preamp"));
        new InputBench(session, 50, InputBench.parallel(3000, 470))
                .take(0)
                .take(3300)
                .take(1000)
                .finish("resistance_ohm: 50");
        line.run("input", "input", session);
        outputs.folder("input", session.resolve("result"));
        line.run("input-json", "input", session, "--json", "--bands", "3", "--out", work.resolve("preamp-json"));
        line.run("input-session", "input", OpenPage.RIBBON);
        line.run("measure-preamp", "measure", session);
        Path fed = OpenPage.copied(OpenPage.RIBBON, work.resolve("fed"));
        Files.copy(session.resolve("result/curve.csv"), fed.resolve("input.csv"));
        Path manifest = fed.resolve("session.yaml");
        Files.writeString(
                manifest,
                Files.readString(manifest)
                        .replaceAll("input: .*", "input: {curve: input.csv, add_phantom_feeds: true}"));
        line.run("measure-input-curve", "measure", fed, "--json");
    }

    private void curves() throws IOException {
        Path coil = Files.writeString(work.resolve("coil.json"), CurveJson.write(SampleMeasurements.movingCoil()));
        Path gaps = Files.writeString(work.resolve("gaps.json"), CurveJson.write(SampleMeasurements.ribbonWithGaps()));
        for (String name : List.of("healthy", "shorted", "borderline")) {
            line.run("check-" + name, "check", "fixtures/check/" + name + ".json", "--spec", LIMITS);
        }
        line.run(
                "check-json",
                "check",
                "fixtures/check/shorted.json",
                "--spec",
                LIMITS,
                "--json",
                "--out",
                work.resolve("check"));
        outputs.folder("check", work.resolve("check"));
        Path resonance = Files.writeString(
                work.resolve("resonance.yaml"), "version: 1\nresonance: {from_hz: 140, to_hz: 160}\n");
        line.run("check-resonance", "check", coil, "--spec", resonance);
        line.run("check-gaps", "check", gaps, "--spec", LIMITS);
        line.run("check-no-spec", "check", HEALTHY);
        line.run("check-spec-missing", "check", HEALTHY, "--spec", "none.yaml");
        Path bad = Files.writeString(
                work.resolve("bad.yaml"), "version: 1\nmask:\n  - {from_hz: 20, min_ohm: x}\nrate: 1\n");
        line.run("check-spec-bad", "check", HEALTHY, "--spec", bad);
        line.run("check-curve-missing", "check", "none.json", "--spec", LIMITS);
        line.run("check-curve-bad", "check", LIMITS, "--spec", LIMITS);

        line.run("match", "match", HEALTHY);
        line.run(
                "match-loads",
                "match",
                HEALTHY,
                "--load",
                "1500",
                "--load",
                "3000:470",
                "--cable",
                "10",
                "--cable-pf",
                "90");
        Path inputs = Files.writeString(work.resolve("inputs.yaml"), """
                version: 1
                inputs:
                  - {name: Desk channel 1, resistance_ohm: 2400, capacitance_pf: 470, gain_db: 60, ein_dbu: -127}
                  - {name: Rack 2, resistance_ohm: 1200, add_phantom_feeds: true, gain_db: 72, voltage_noise_nv: 1.1}
                boosters:
                  - {name: Line booster, resistance_ohm: 20000, gain_db: 25, output_ohm: 150, voltage_noise_nv: 1.3}
                """);
        line.run(
                "match-level",
                "match",
                HEALTHY,
                "--inputs",
                inputs,
                "--sensitivity",
                "1.2",
                "--spl",
                "80",
                "--out",
                work.resolve("match"));
        outputs.folder("match-level", work.resolve("match"));
        line.run(
                "match-json",
                "match",
                coil,
                "--load",
                "1000",
                "--json",
                "--phantom-feeds",
                "--booster",
                "10000",
                "--booster-gain",
                "20");
        line.run("match-gaps", "match", gaps, "--load", "1000");
        line.run("match-bad-load", "match", HEALTHY, "--load", "0");
        line.run("match-booster-alone", "match", HEALTHY, "--load", "1000", "--booster", "10000");
        line.run("match-inputs-bad", "match", HEALTHY, "--inputs", LIMITS);
        line.run("match-theme", "match", HEALTHY, "--theme", "blue");

        line.run("circuit", "circuit", HEALTHY, "--out", work.resolve("healthy.cir"));
        outputs.file("circuit.cir", Files.readAllBytes(work.resolve("healthy.cir")));
        line.run("circuit-json", "circuit", coil, "--json", "--family", "moving-coil");
        line.run("circuit-family", "circuit", HEALTHY, "--family", "capacitor-coupled");
        line.run("circuit-family-bad", "circuit", HEALTHY, "--family", "valve");
        line.run("circuit-missing", "circuit", work.resolve("none"));

        line.run("report-no-out", "report", HEALTHY);
        line.run("report-format", "report", HEALTHY, "--out", work.resolve("sheet.doc"), "--format", "doc");
        line.run("report-paper", "report", HEALTHY, "--out", work.resolve("sheet.pdf"), "--paper", "a9");
        line.run("report-folder", "report", HEALTHY, "--out", work.resolve("none/sheet.pdf"));
        line.run("report-spl-alone", "report", HEALTHY, "--out", work.resolve("sheet.pdf"), "--spl", "90");
    }

    private void planAndStimulus() throws IOException {
        line.run("plan", "plan", "--impedance", "300", "--input", "3000", "--stock", "100,220,470", "--wanted", "2");
        line.run("plan-json", "plan", "--transducer", "ribbon", "--input", "3000", "--json");
        line.run(
                "plan-curve",
                "plan",
                "--curve",
                HEALTHY,
                "--input",
                "3000",
                "--series",
                "E24",
                "--minimum-load",
                "150");
        line.run("plan-no-input", "plan", "--impedance", "300");
        line.run("plan-two", "plan", "--impedance", "300", "--transducer", "ribbon", "--input", "3000");
        line.run("plan-series", "plan", "--impedance", "300", "--input", "3000", "--series", "E7");

        Path sweep = work.resolve("sweep.wav");
        line.run("stimulus", "stimulus", sweep, "--seconds", "1", "--level", "-12");
        outputs.file("stimulus.wav", Files.readAllBytes(sweep));
        line.run("stimulus-again", "stimulus", sweep, "--seconds", "1");
        Path noise = work.resolve("noise.wav");
        line.run(
                "stimulus-json",
                "stimulus",
                noise,
                "--sound",
                "pink",
                "--seconds",
                "1",
                "--bits",
                "16",
                "--seed",
                "3",
                "--json");
        line.run(
                "stimulus-noise",
                "stimulus",
                noise,
                "--sound",
                "noise",
                "--seconds",
                "1",
                "--loop",
                "--replace",
                "--bits",
                "16");
        outputs.file("stimulus-noise.wav", Files.readAllBytes(noise));
        line.run("stimulus-bits", "stimulus", work.resolve("x.wav"), "--bits", "20");
        line.run("stimulus-band", "stimulus", work.resolve("x.wav"), "--from", "100", "--to", "50");
    }

    private void audition() throws IOException {
        Path take = OpenPage.RIBBON.resolve("take-1.wav");
        Object[] usual = {"audition", take, "--curve", HEALTHY, "--from", "220", "--input", "3300"};
        Path open = work.resolve("open.wav");
        run("audition", usual, "--to", "open", "--out", open);
        outputs.file("audition.wav", Files.readAllBytes(open));
        outputs.file("audition-ab.wav", Files.readAllBytes(work.resolve("open-ab.wav")));
        run("audition-again", usual, "--to", "open", "--out", open);
        run(
                "audition-json",
                usual,
                "--to",
                "100",
                "--out",
                work.resolve("low.wav"),
                "--no-ab",
                "--level-matched",
                "--json");
        run("audition-no-to", usual, "--out", work.resolve("x.wav"));
        run("audition-load", usual, "--to", "-3", "--out", work.resolve("x.wav"));
        line.run(
                "audition-no-curve", "audition", take, "--from", "220", "--to", "open", "--out", work.resolve("x.wav"));
        line.run(
                "audition-no-sound",
                "audition",
                LIMITS,
                "--curve",
                HEALTHY,
                "--from",
                "220",
                "--to",
                "open",
                "--input",
                "3300",
                "--out",
                work.resolve("x.wav"));
    }

    private void run(String name, Object[] usual, Object... more) throws IOException {
        Object[] all = Arrays.copyOf(usual, usual.length + more.length);
        System.arraycopy(more, 0, all, usual.length, more.length);
        line.run(name, all);
    }
}
