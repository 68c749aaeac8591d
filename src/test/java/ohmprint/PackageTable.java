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
        row("curve", "text", "uncertainty");
        row("signal", "curve");
        row("circuit", "text", "curve", "uncertainty");
        row("estimate", "curve", "signal", "circuit", "uncertainty");
        row("spec", "text", "curve", "uncertainty");
        row("manifest", "text", "curve");
        row("files");
        row("session", "text", "curve", "circuit", "signal", "manifest", "files");
        row("wav", "signal");
        row("audio", "signal");
        row("library", "curve", "spec", "files");
        row("report", "text", "curve", "circuit", "estimate", "spec");
        row("exchange", "text", "curve", "spec", "manifest");
        row(
                "app",
                "curve",
                "signal",
                "circuit",
                "estimate",
                "spec",
                "manifest",
                "files",
                "session",
                "wav",
                "audio",
                "library",
                "report",
                "exchange",
                "uncertainty",
                "text");
        row("cli", "text", "app", "curve", "library");
        row("web", "app", "curve", "library");
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
