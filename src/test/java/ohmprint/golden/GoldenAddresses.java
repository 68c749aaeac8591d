package ohmprint.golden;

import java.net.http.HttpRequest.BodyPublishers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.util.List;
import java.util.stream.Stream;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.SampleMeasurements;
import ohmprint.library.InventedUnits;
import ohmprint.web.OpenPage;
import ohmprint.web.PageClient;

/** Every address of the page, asked in one order with what is good and with usual mistakes. */
final class GoldenAddresses {
    private static final String RIBBON = "/api/sessions/ribbon";
    private static final String JOIN = "/api/sessions/brucke-3";

    private final Path workspace;
    private final PageTranscript page;

    private GoldenAddresses(Path workspace, PageTranscript page) {
        this.workspace = workspace;
        this.page = page;
    }

    static void write(GoldenOutputs outputs, Path work) throws Exception {
        Path workspace = Files.createDirectories(work.resolve("workspace"));
        try (OpenPage open = OpenPage.of(workspace)) {
            PageClient client = open.client();
            GoldenAddresses all = new GoldenAddresses(workspace, new PageTranscript(outputs, client));
            all.files();
            all.workspace();
            all.session();
            all.curves();
            all.library();
            all.analysis();
            all.refused();
        }
    }

    private void files() throws Exception {
        for (String path : List.of(
                "/",
                "/session/none",
                "/library",
                "/library/x",
                "/compare",
                "/spread",
                "/like",
                "/check",
                "/report",
                "/plan",
                "/nowhere",
                "/page/main.js",
                "/page/style.css",
                "/page/none.js",
                "/page/..%2fx",
                "/lib/uplot.js",
                "/lib/uplot.css",
                "/lib/none.js",
                "/api/none")) {
            page.kind("file" + path.replaceAll("[^a-z.]+", "-"), path);
        }
    }

    private void workspace() throws Exception {
        page.get("workspace-empty", "/api/workspace");
        page.get("limits", "/api/limits");
        page.get("devices", "/api/devices");
        page.get("cautions", "/api/cautions");
        Files.copy(OpenPage.RIBBON.resolve("take-1.wav"), workspace.resolve("loose.wav"));
        OpenPage.copied(OpenPage.RIBBON, workspace.resolve("ribbon"));
        Files.createDirectories(workspace.resolve("broken"));
        Files.writeString(workspace.resolve("broken/session.yaml"), "version: 1\nmicrophone: {lable: x}\n");
        measured("coil", CurveJson.write(SampleMeasurements.movingCoil()));
        for (int n = 1; n <= 3; n++) {
            measured("heron-" + n, CurveJson.write(InventedUnits.unit(n, 1, 3, 0.01)));
        }
        measured("healthy", Files.readString(Path.of("fixtures/check/healthy.json")));
        measured("shorted", Files.readString(Path.of("fixtures/check/shorted.json")));
        aged();
        page.get("workspace", "/api/workspace");
    }

    /** The list is ordered by the times of the files. */
    private void aged() throws Exception {
        Instant time = Instant.parse("2026-02-01T08:00:00Z");
        try (Stream<Path> files = Files.walk(workspace)) {
            for (Path file : files.filter(Files::isRegularFile).sorted().toList()) {
                time = time.plusSeconds(60);
                Files.setLastModifiedTime(file, FileTime.from(time));
            }
        }
    }

    private void measured(String name, String json) throws Exception {
        Path session = workspace.resolve(name);
        Files.createDirectories(session.resolve("result"));
        Files.writeString(
                session.resolve("session.yaml"),
                "version: 1\nmicrophone: {label: \"Stored " + name + "\"}\ninput: {resistance_ohm: 3000}\ntakes: []\n");
        Files.writeString(session.resolve("result/curve.json"), json);
    }

    private void session() throws Exception {
        page.send(
                "create",
                "POST",
                "/api/sessions",
                "{'microphone': {'label': 'Brücke 3', 'transducer': 'moving-coil'}, 'input': {'resistance_ohm': 3000,"
                        + " 'capacitance_pf': 470}, 'loads': {'ohm': [150, 'open'], 'tolerance_percent': 0.1,"
                        + " 'repeat_first': true}}");
        page.send("create-again", "POST", "/api/sessions", "{'microphone': {'label': 'Brücke 3'}}");
        page.send("create-empty", "POST", "/api/sessions", "{'name': 'brought'}");
        page.send("create-bad-name", "POST", "/api/sessions", "{'name': '../x'}");
        page.send("create-bad-load", "POST", "/api/sessions", "{'name': 'y', 'loads': {'ohm': [150, 'much']}}");
        page.send("create-bad-key", "POST", "/api/sessions", "{'nmae': 'y'}");
        page.upload(
                "upload-manifest", "/api/sessions/brought/files/session.yaml", OpenPage.RIBBON.resolve("session.yaml"));
        page.upload("upload-take", JOIN + "/files/my%20take.wav", OpenPage.RIBBON.resolve("take-1.wav"));
        page.upload("upload-again", JOIN + "/files/my%20take.wav", OpenPage.RIBBON.resolve("take-1.wav"));
        page.upload("upload-text", JOIN + "/files/notes.txt", OpenPage.RIBBON.resolve("ABOUT.md"));
        page.upload("upload-no-sound", JOIN + "/files/x.wav", OpenPage.RIBBON.resolve("ABOUT.md"));
        page.send("take-add", "POST", JOIN + "/takes", "{'file': 'my take.wav', 'load_ohm': 150}");
        page.send("take-add-no-load", "POST", JOIN + "/takes", "{'file': 'my take.wav'}");
        page.send("take-change", "PUT", JOIN + "/takes/my%20take.wav", "{'load_ohm': 'open', 'note': 'lid off'}");
        page.send("take-change-time", "PUT", JOIN + "/takes/my%20take.wav", "{'time': 'noon'}");
        page.send("take-change-none", "PUT", JOIN + "/takes/none.wav", "{'load_ohm': 5}");
        page.delete("take-remove", JOIN + "/takes/my%20take.wav");
        page.delete("take-remove-none", JOIN + "/takes/none.wav");
        page.send("microphone", "PUT", JOIN + "/microphone", "{'maker': 'Hollow Oak', 'rated_impedance_ohm': 270}");
        page.send("microphone-bad", "PUT", JOIN + "/microphone", "{'transducer': 'horn'}");
        page.send("microphone-list", "PUT", JOIN + "/microphone", "[1]");
        page.send("input", "PUT", JOIN + "/input", "{'resistance_ohm': 'unknown', 'capacitance_pf': 220}");
        page.send("input-bad", "PUT", JOIN + "/input", "{'resistance_ohm': -5}");
        page.send("input-curve-none", "PUT", JOIN + "/input", "{'curve': 'none.csv'}");
        page.send("stimulus", "PUT", JOIN + "/stimulus", "{'kind': 'noise'}");
        page.send("stimulus-bad", "PUT", JOIN + "/stimulus", "{'kind': 'bang'}");
        page.send("adopt", "POST", JOIN + "/adopt", "{'files': ['loose.wav']}");
        page.send("adopt-again", "POST", JOIN + "/adopt", "{'files': ['loose.wav']}");
        page.send("adopt-outside", "POST", JOIN + "/adopt", "{'files': ['../loose.wav']}");
        page.send("recorder-bad", "POST", JOIN + "/recorder", "{'do': 'dance'}");
        page.get("session", JOIN);
        page.get("session-none", "/api/sessions/none");
        page.get("session-broken", "/api/sessions/broken");
        page.get("curve-none", JOIN + "/curve");
        page.get("session-ribbon", RIBBON);
        page.get("inspection", RIBBON + "/takes/take-1.wav/inspection");
        page.get("inspection-none", RIBBON + "/takes/none.wav/inspection");
        page.send("measure-bad-route", "POST", RIBBON + "/measure", "{'route': 'scenic'}");
        page.send("measure-bad-bands", "POST", RIBBON + "/measure", "{'bands': 5}");
        page.send("measure-refused", "POST", RIBBON + "/measure", "{'route': 'reference'}");
        page.send("measure", "POST", RIBBON + "/measure", "{'bands': 6}");
        page.get("curve", RIBBON + "/curve");
        page.get("session-measured", RIBBON);
        page.get("lines", RIBBON + "/lines?hz=1000");
        page.get("lines-dark", RIBBON + "/lines?hz=4000&theme=dark");
        page.get("lines-bad", RIBBON + "/lines?hz=nonsense");
        page.get("lines-outside", RIBBON + "/lines?hz=1");
        page.get("audition", RIBBON + "/audition?take=take-1.wav&load_ohm=10000&whole=true");
        page.get("audition-bad", RIBBON + "/audition?take=take-1.wav&load_ohm=-1");
        page.get("audition-none", RIBBON + "/audition?take=none.wav&load_ohm=100");
        page.get("audition-no-take", RIBBON + "/audition");
        page.send("take-load", "PUT", RIBBON + "/takes/take-1.wav", "{'load_ohm': 47000}");
        page.send("take-load-2", "PUT", RIBBON + "/takes/take-3.wav", "{'load_ohm': 47000}");
        page.send("measure-unsupported", "POST", RIBBON + "/measure", "{}");
        page.get("curve-outdated", RIBBON + "/curve");
        page.send("take-load-back", "PUT", RIBBON + "/takes/take-1.wav", "{'load_ohm': 220}");
        page.send("take-load-back-2", "PUT", RIBBON + "/takes/take-3.wav", "{'load_ohm': 220}");
        page.send("demo", "POST", "/api/demo", "{}");
    }

    private void curves() throws Exception {
        page.get("curves-session", "/api/curves/session:coil");
        page.get("curves-unnamed", "/api/curves/coil");
        for (String kind : List.of("csv", "json", "s1p", "svg", "png", "exe")) {
            page.get("curves-file-" + kind, "/api/curves/session:heron-1/file?kind=" + kind);
        }
        page.get("curves-file", "/api/curves/session:heron-1/file");
        page.send(
                "match",
                "POST",
                "/api/match",
                "{'curve': 'session:coil', 'load_ohm': 1000, 'cable_m': 10, 'phantom_feeds': true, 'sensitivity_mv':"
                        + " 1.5, 'preamplifier': {'gain_db': 60, 'ein_dbu': -128}}");
        page.send("match-bare", "POST", "/api/match", "{'curve': 'session:heron-1', 'load_ohm': 1000}");
        page.send("match-bad-load", "POST", "/api/match", "{'curve': 'session:coil', 'load_ohm': 0}");
        page.send("match-no-curve", "POST", "/api/match", "{'load_ohm': 1000}");
        page.send(
                "match-bad-level",
                "POST",
                "/api/match",
                "{'curve': 'session:coil', 'load_ohm': 9, 'sensitivity_mv': 0}");
        page.get("inputs-none", "/api/inputs?curve=session:coil");
        Files.writeString(
                workspace.resolve("inputs.yaml"),
                "version: 1\ninputs:\n  - {name: Desk channel 1, resistance_ohm: 2400, capacitance_pf: 470}\n");
        page.get("inputs", "/api/inputs?curve=session:coil");
        page.get("inputs-no-curve", "/api/inputs");
    }

    private void library() throws Exception {
        page.get("library-missing", "/api/library");
        String old = kept("heron-1");
        String fresh = kept("heron-2");
        String third = kept("heron-3");
        page.send("keep-again", "POST", "/api/library", "{'curve': 'session:heron-1', 'operator': 'Bo', 'notes': 'x'}");
        page.send("keep-none", "POST", "/api/library", "{'curve': 'session:none'}");
        page.send(
                "supersede",
                "POST",
                "/api/library/" + old + "/supersede",
                "{'by_id': '" + fresh + "', 'reason': 'longer sweep', 'operator': 'Ben Marsh'}");
        page.send("supersede-bad", "POST", "/api/library/" + old + "/supersede", "{}");
        page.send(
                "repaired",
                "POST",
                "/api/library/" + fresh + "/repaired",
                "{'after_id': '" + third + "', 'note': 'new coil', 'operator': 'Ben Marsh'}");
        page.send("repaired-bad", "POST", "/api/library/" + old + "/repaired", "{'after_id': 'ffff'}");
        page.get("library-entry", "/api/library/" + old);
        page.get("library-entry-none", "/api/library/ffffffffffff");
        page.get("library", "/api/library");
        page.get("library-limit", "/api/library?limit=1&superseded=true");
        page.get("library-text", "/api/library?text=heron%20ada");
        page.get("library-bad-limit", "/api/library?limit=all");
        page.get("library-bad-since", "/api/library?since=spring");
        page.get("library-bad-key", "/api/library?colour=red");
        page.get("library-health", "/api/library/health");
        PageClient.Answer bundle = page.get("bundle", "/api/library/bundle?ids=" + old + "," + fresh);
        page.get("bundle-none", "/api/library/bundle?ids=,");
        Path zip = Files.write(
                workspace.resolveSibling("bundle.zip"), bundle.response().body());
        page.send("remove-bad", "POST", "/api/library/" + fresh + "/remove", "{'reason': ' '}");
        page.send(
                "remove",
                "POST",
                "/api/library/" + third + "/remove",
                "{'reason': 'another unit', 'operator': 'Ben Marsh'}");
        page.upload("bundle-known", "/api/library/bundle", zip);
        page.upload("bundle-bad", "/api/library/bundle", OpenPage.RIBBON.resolve("ABOUT.md"));
        page.send("keep-removed", "POST", "/api/library", "{'curve': 'session:heron-3'}");
        page.send(
                "keep-removed-again",
                "POST",
                "/api/library",
                "{'curve': 'session:heron-3', 'again': true, 'operator': 'Ada Quill'}");
        page.get("curves-library", "/api/curves/library:" + old);
        page.get("specifications-none", "/api/specifications");
        page.send(
                "specification-put",
                "PUT",
                "/api/specifications/Heron%20300",
                "{'yaml': 'version: 1\\nrated_impedance: {ohm: 150, tolerance_percent: 20}\\n', 'operator': 'Ada Quill'}");
        page.send(
                "specification-bad",
                "PUT",
                "/api/specifications/Heron",
                "{'yaml': 'version: 1\\nmask:\\n  - {from_hz: 20}\\n'}");
        page.get("specifications", "/api/specifications");
        page.get("specification", "/api/specifications/Heron%20300");
        page.get("specification-none", "/api/specifications/Auk");
    }

    private String kept(String session) throws Exception {
        return page.send(
                        "keep-" + session,
                        "POST",
                        "/api/library",
                        "{'curve': 'session:" + session + "', 'operator': 'Ada Quill', 'notes': 'spring'}")
                .json()
                .get("id")
                .asText();
    }

    private void analysis() throws Exception {
        page.get("compare", "/api/compare?curves=session:healthy,session:shorted");
        page.get("compare-same-bench", "/api/compare?curves=session:heron-1,session:heron-2&same_bench=true");
        page.get("compare-one", "/api/compare?curves=session:heron-1");
        page.get("compare-none", "/api/compare?curves=session:heron-1,session:none");
        page.get("spread", "/api/spread?model=Heron");
        page.get("spread-unknown", "/api/spread?model=Auk");
        page.get("spread-no-model", "/api/spread");
        page.get("like", "/api/like?curve=session:coil");
        page.get("like-limit", "/api/like?curve=session:coil&limit=1");
        page.get("like-bad-limit", "/api/like?curve=session:coil&limit=all");
        String rated = "version: 1\\nrated_impedance: {ohm: %d, tolerance_percent: 20}\\n";
        page.send("check", "POST", "/api/check", "{'curve': 'session:heron-2', 'specification': 'Heron 300'}");
        page.send(
                "check-within",
                "POST",
                "/api/check",
                "{'curve': 'session:coil', 'yaml': '" + rated.formatted(200) + "'}");
        page.send(
                "check-outside",
                "POST",
                "/api/check",
                "{'curve': 'session:coil', 'yaml': '" + rated.formatted(600) + "'}");
        page.send("check-no-limits", "POST", "/api/check", "{'curve': 'session:coil'}");
        page.send("check-bad", "POST", "/api/check", "{'curve': 'session:coil', 'yaml': 'version: 2'}");
        page.send("check-no-curve", "POST", "/api/check", "{'specification': 'Heron 300'}");
        page.send(
                "plan",
                "POST",
                "/api/plan",
                "{'expected': {'ohm': 300}, 'input_ohm': 3000, 'stock': [100, 220, 1000], 'wanted_percent': 3}");
        page.send(
                "plan-curve",
                "POST",
                "/api/plan",
                "{'expected': {'curve': 'session:heron-1'}, 'input_ohm': 3000, 'stock': [100, 220, 1000]}");
        page.send("plan-no-input", "POST", "/api/plan", "{'expected': {'ohm': 300}}");
        page.send(
                "plan-two", "POST", "/api/plan", "{'expected': {'ohm': 300, 'transducer': 'ribbon'}, 'input_ohm': 1}");
        page.send("plan-bad", "POST", "/api/plan", "{'expected': {'ohm': 300}, 'input_ohm': 3000, 'snr_db': -3}");
        page.get(
                "report",
                "/api/report?curve=session:heron-1&form=html&compared=session:heron-2&specification=Heron%20300");
        page.get("report-bad-form", "/api/report?curve=session:healthy&form=text");
        page.get("report-bad-level", "/api/report?curve=session:healthy&spl_db=80");
        page.get("report-no-curve", "/api/report");
    }

    private void refused() throws Exception {
        page.send("wrong-method-workspace", "POST", "/api/workspace", "{}");
        page.send("wrong-method-measure", "PUT", RIBBON + "/measure", "{}");
        page.delete("wrong-method-session", RIBBON);
        page.get("wrong-method-match", "/api/match");
        page.send("no-json", "POST", "/api/match", "not JSON");
        page.send("null", "POST", "/api/match", "null");
        page.send("trailing", "POST", "/api/match", "{} {}");
        page.send("twice", "POST", "/api/match", "{'load_ohm': 1, 'load_ohm': 2}");
        page.send("wrong-type", "POST", "/api/match", "{'load_ohm': 'big'}");
        page.send("wrong-type-within", "POST", "/api/plan", "{'expected': {'ohm': [1]}}");
        page.send("unknown-key", "POST", "/api/check", "{'color': 1}");
        page.told(
                "bytes-for-json",
                "PUT",
                "/api/match",
                "bytes",
                page.client().upload("/api/match", BodyPublishers.ofString("{}")));
        page.get("dots", "/api/sessions/..%2f..");
        page.get("events-none", "/api/sessions/none/events");
    }
}
