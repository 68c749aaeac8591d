package ohmprint;

import static java.util.stream.Collectors.toUnmodifiableSet;

import java.util.Arrays;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;

/**
 * Which package of the project may use which: the one place where the table is typed. Each row is a complete
 * allow-list; a package may always use itself, and libraries are ruled elsewhere.
 */
final class PackageTable {
    static final String ROOT = "ohmprint";

    private static final Map<String, Set<String>> ROWS = new LinkedHashMap<>();

    static {
        row("text");
        row("uncertainty");
        row("impedance", "text", "uncertainty");
        row("dsp", "impedance");
        row("circuit", "text", "impedance", "uncertainty");
        row("estimation", "impedance", "dsp", "circuit", "uncertainty");
        row("conformity", "text", "impedance", "uncertainty");
        row("yaml", "text", "impedance");
        row("files");
        row("session", "text", "impedance", "circuit", "dsp", "yaml", "files");
        row("audiofile", "dsp");
        row("audiodevice", "dsp");
        row("library", "impedance", "conformity", "files");
        row("chart", "text", "impedance", "circuit", "estimation", "conformity");
        row("exchange", "text", "impedance", "conformity", "yaml");
        row(
                "app",
                "impedance",
                "dsp",
                "circuit",
                "estimation",
                "conformity",
                "yaml",
                "files",
                "session",
                "audiofile",
                "audiodevice",
                "library",
                "chart",
                "exchange",
                "uncertainty",
                "text");
        row("json", "app", "impedance", "library");
        row("cli", "json", "text", "app", "impedance", "conformity", "library");
        row("web", "json", "app", "impedance", "conformity", "library");
    }

    private PackageTable() {}

    private static void row(String name, String... mayUse) {
        ROWS.put(name, Arrays.stream(mayUse).collect(toUnmodifiableSet()));
    }

    /** Short package names in the table's order, each with the short names that it may use. */
    static Map<String, Set<String>> rows() {
        return Collections.unmodifiableMap(ROWS);
    }

    /** ArchUnit's pattern for a package of the table and all below it. */
    static String pattern(String shortName) {
        return ROOT + "." + shortName + "..";
    }
}
