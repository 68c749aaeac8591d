package ohmprint;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.tools.JavaCompiler;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;
import ohmprint.impedance.ImpedanceCurve;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.NullMarked;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Each package shows how it is used, in a comment that compiles. Of a snippet are given a {@code folder}, a {@code file}, a
 * {@code curve} and a {@code measurement}; the public classes of its own package and of {@code curve} need no import.
 */
@Tag("slow")
class PackageSnippetsTest {
    private static final Path SOURCES = Path.of("src/main/java");
    private static final Pattern SNIPPET =
            Pattern.compile("In use:\n \\*\n \\* <pre>\\{@code\n(.*?) \\* \\}</pre>", Pattern.DOTALL);
    /** Nobody calls these from Java: people do, from a terminal and a browser. What is in app is shared by its parts. */
    private static final Set<String> DOORS = Set.of("ohmprint.app", "ohmprint.cli", "ohmprint.web");

    @Test
    void everySnippetCompiles(@TempDir Path folder) throws IOException {
        List<Path> sources = new ArrayList<>();
        List<String> without = new ArrayList<>();
        for (Path info : packageComments()) {
            String name = SOURCES.relativize(info.getParent()).toString().replace('/', '.');
            Matcher snippet = SNIPPET.matcher(Files.readString(info));
            if (snippet.find()) {
                String type = "Use" + sources.size();
                sources.add(Files.writeString(folder.resolve(type + ".java"), source(name, type, snippet.group(1))));
            } else if (!DOORS.contains(name)) {
                without.add(name);
            }
        }

        assertThat(without).as("packages without a snippet").isEmpty();
        assertThat(errors(folder, sources)).isEmpty();
    }

    private static String errors(Path folder, List<Path> sources) throws IOException {
        JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
        List<String> options = List.of("-d", folder.toString(), "-proc:none", "-cp", classPath());
        StringWriter errors = new StringWriter();
        try (StandardJavaFileManager files = compiler.getStandardFileManager(null, null, null)) {
            compiler.getTask(errors, files, null, options, null, files.getJavaFileObjectsFromPaths(sources))
                    .call();
        }
        return errors.toString();
    }

    /** Where this test's own libraries lie, however it was started. */
    private static String classPath() {
        return Stream.of(ImpedanceCurve.class, Complex.class, NullMarked.class)
                .map(c -> c.getProtectionDomain().getCodeSource().getLocation().getPath())
                .collect(Collectors.joining(File.pathSeparator));
    }

    private static List<Path> packageComments() throws IOException {
        try (Stream<Path> files = Files.walk(SOURCES)) {
            return files.filter(file -> file.endsWith("package-info.java"))
                    .sorted()
                    .toList();
        }
    }

    private static String source(String ofPackage, String type, String comment) {
        List<String> lines =
                comment.lines().map(line -> line.replaceFirst("^ \\* ?", "")).toList();
        String imports =
                lines.stream().filter(line -> line.startsWith("import ")).collect(Collectors.joining("\n"));
        String body = lines.stream().filter(line -> !line.startsWith("import ")).collect(Collectors.joining("\n"));
        return """
                import java.nio.file.Path;
                import ohmprint.impedance.*;
                import %s.*;
                %s
                class %s {
                    void use(Path folder, Path file, ImpedanceCurve curve, Measurement measurement) throws Exception {
                %s
                    }
                }
                """.formatted(ofPackage.equals("ohmprint.impedance") ? "java.lang" : ofPackage, imports, type, body);
    }
}
