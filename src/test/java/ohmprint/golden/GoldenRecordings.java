package ohmprint.golden;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.function.Consumer;
import ohmprint.cli.BenchDialogue;
import ohmprint.loopback.SoundlessBench;
import ohmprint.web.EventReader;
import ohmprint.web.OpenPage;
import ohmprint.web.PageClient;
import org.jspecify.annotations.Nullable;

/** What a recording tells, sound and with faults: the words of a guided one, the lines of JSON of another, events of the page. */
final class GoldenRecordings {
    private static final String[] NONE = {};
    private static final String[] UNATTENDED = {"--yes", "--wait", "0", "--json"};

    private final GoldenOutputs outputs;
    private final Path work;

    private GoldenRecordings(GoldenOutputs outputs, Path work) {
        this.outputs = outputs;
        this.work = work;
    }

    static void write(GoldenOutputs outputs, Path work) throws Exception {
        GoldenRecordings all = new GoldenRecordings(outputs, work);
        all.guided();
        all.unattended();
        all.onThePage();
        all.told("devices", new BenchDialogue(work).devices(), null);
        all.told("devices-json", new BenchDialogue(work).devices("--json"), null);
        all.told("devices-unknown", new BenchDialogue(work).devices("--device", "other"), null);
    }

    private void guided() throws IOException {
        String[] whole = {"", "@1500", "", "@150", "", "@1500", "", "@150", "k"};
        run("guided-sound", bench -> {}, NONE, whole);
        run("guided-clipped", bench -> bench.ceiling = 0.02, NONE, "", "@1500", "g", "@150", "q");
        run("guided-quiet", bench -> bench.gain = 0.01, NONE, "", "@1500", "g", "@150", "q");
        run("guided-noisy", bench -> bench.noise = 100, NONE, "", "@1500", "g", "@150", "q");
        run("guided-wrong-load", bench -> {}, NONE, "", "s", "@150", "", "@150", "", "@1500", "", "q");
        run("guided-lost-device", bench -> bench.lostAfter = 1, NONE, "", "s", "@150", "q");
        run("guided-lost-sound", bench -> dropped(bench, SoundlessBench.Fault.DROPPED), NONE, "", "s", "@150", "q");
        run("guided-zeros", bench -> dropped(bench, SoundlessBench.Fault.ZEROED), NONE, "", "s", "@150", "q");
        run("guided-inserted", bench -> dropped(bench, SoundlessBench.Fault.INSERTED), NONE, "", "s", "@150", "q");
        run("guided-output-gap", bench -> bench.gapMillis = 30, NONE, "", "s", "@150", "q");
        run("guided-late", bench -> bench.lostSeconds = 0.05, NONE, "", "s", "@150", "q");
        run("guided-ran-empty", bench -> bench.ranEmpty = true, NONE, "", "s", "@150", "q");
        run("guided-no-device", bench -> bench.own = null, NONE);
        run("guided-input-ends", bench -> {}, NONE, "", "s");

        BenchDialogue dialogue = dialogue("interrupted");
        told("interrupted-1", dialogue.newSession(NONE, "", "s", "@150", "k", "q"), folder("interrupted"));
        told(
                "interrupted-2",
                dialogue.session(NONE, "", "@1500", "k", "@150", "r", "@150", "k"),
                folder("interrupted"));
        told("interrupted-3", dialogue.session(NONE), null);
        told("interrupted-again", dialogue.newSession(NONE), null);
    }

    private void unattended() throws IOException {
        run("unattended-wrong-load", bench -> bench.ohm = 150, UNATTENDED);
        run("unattended-clipped", bench -> bench.ceiling = 0.02, UNATTENDED);
        run("unattended-lost-device", bench -> bench.lostAfter = 1, UNATTENDED);
        String[] lines = {"--yes", "--json", "--no-repeat"};
        run("unattended-sound", bench -> {}, lines, "@1500", "@150", "@1500");
    }

    private static void dropped(SoundlessBench bench, SoundlessBench.Fault fault) {
        bench.fault = fault;
        bench.faultMillis = 20;
    }

    private BenchDialogue dialogue(String name) throws IOException {
        return new BenchDialogue(Files.createDirectories(work.resolve(name)));
    }

    private Path folder(String name) {
        return work.resolve(name).resolve("session");
    }

    private void run(String name, Consumer<SoundlessBench> fault, String[] options, String... answers)
            throws IOException {
        BenchDialogue dialogue = dialogue(name);
        fault.accept(dialogue.bench());
        told(name, dialogue.newSession(options, answers), folder(name));
    }

    private void told(String name, BenchDialogue.Said said, @Nullable Path session) throws IOException {
        StringBuilder files = new StringBuilder();
        if (session != null && Files.exists(session)) {
            files.append("== files\n");
            try (var all = Files.list(session)) {
                all.map(file -> file.getFileName() + "\n").sorted().forEach(files::append);
            }
            files.append("== session.yaml\n").append(Files.readString(session.resolve("session.yaml")));
        }
        outputs.text(
                name + ".txt",
                CommandTranscript.transcript("record", said.code(), said.stdout(), said.stderr()) + files);
    }

    /** Events whose order is that of what is asked; levels come by the clock and are left out. */
    private void onThePage() throws Exception {
        SoundlessBench bench = new SoundlessBench();
        Path workspace = Files.createDirectories(work.resolve("page"));
        try (OpenPage page = OpenPage.of(workspace, () -> bench)) {
            PageClient client = page.client();
            PageTranscript asked = new PageTranscript(outputs, client);
            asked.send(
                    "page-01-create",
                    "POST",
                    "/api/sessions",
                    "{'name': 'coil', 'microphone': {'label': 'Bench coil 4', 'rated_impedance_ohm': 200}, 'input':"
                            + " {'resistance_ohm': 3000, 'capacitance_pf': 470}, 'loads': {'ohm': [150, 1500],"
                            + " 'tolerance_percent': 0.02, 'repeat_first': true}}");
            try (EventReader window = new EventReader(client.events("coil"))) {
                asked.send("page-02-too-soon", "POST", "/api/sessions/coil/recorder", "{'do': 'record'}");
                asked.send(
                        "page-03-open",
                        "POST",
                        "/api/sessions/coil/recorder",
                        "{'do': 'open', 'bench': {'channel': 1}, 'sound': {'kind': 'sweep', 'seconds': 1, 'peak_dbfs':"
                                + " -18}}");
                tell(asked, "page-04-cautions-read", "cautions-read");
                bench.ohm = 1500;
                tell(asked, null, "check-level");
                event(
                        "page-05-level",
                        window.next("session", s -> recorder(s).path("level").isObject()));
                tell(asked, "page-06-level-accepted", "level-accepted");
                broken(asked, bench, window);
                double[] loads = {150, 150, 1500, 150};
                String[] verdicts = {"keep", "repeat", "keep", "keep"};
                for (int k = 0; k < loads.length; k++) {
                    bench.ohm = loads[k];
                    tell(asked, null, "record");
                    int take = 7 + 2 * k;
                    event("page-%02d-take".formatted(take), window.step("judge"));
                    String name = "page-%02d-%s".formatted(take + 1, verdicts[k]);
                    tell(asked, name, verdicts[k]);
                    window.step(k == loads.length - 1 ? "done" : "fit");
                    if (loads[k] == 1500) {
                        // The second load gives the first curve, which what follows tells of.
                        window.next("curve", curve -> curve.path("loads").size() == 2);
                    }
                }
                event(
                        "page-15-curve",
                        window.next("curve", curve -> curve.path("loads").size() == 3));
                tell(asked, "page-16-close", "close");
            }
        }
    }

    /** A take that is broken off while it sounds, and one whose device disappears. */
    private void broken(PageTranscript asked, SoundlessBench bench, EventReader window) throws Exception {
        bench.ohm = 150;
        bench.halfway = () -> {
            try {
                tell(asked, null, "cancel");
            } catch (Exception e) {
                throw new IllegalStateException("the sound cannot be broken off", e);
            }
        };
        tell(asked, null, "record");
        event("page-06-cancelled-note", window.next("note"));
        event("page-06-cancelled", window.step("fit"));
        bench.halfway = () -> {};
        bench.lostAfter = 1;
        tell(asked, null, "record");
        event("page-06-lost-note", window.next("note"));
        event(
                "page-06-lost",
                window.next(
                        "session",
                        s -> recorder(s).path("step").asText().equals("fit")
                                && !recorder(s).path("error").isNull()));
        bench.lostAfter = Double.POSITIVE_INFINITY;
    }

    private static JsonNode recorder(JsonNode session) {
        return session.path("recorder");
    }

    /** Without a name when what is answered depends on how far the sound has come. */
    private static void tell(PageTranscript asked, @Nullable String name, String what) throws Exception {
        String path = "/api/sessions/coil/recorder";
        if (name == null) {
            asked.client().good("POST", path, "{\"do\": \"" + what + "\"}");
        } else {
            asked.send(name, "POST", path, "{'do': '" + what + "'}");
        }
    }

    private void event(String name, JsonNode data) throws IOException {
        outputs.text(name + ".txt", GoldenOutputs.broken(data.toString()));
    }
}
