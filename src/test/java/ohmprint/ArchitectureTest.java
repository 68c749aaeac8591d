package ohmprint;

import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchRule;
import java.io.IOException;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.tools.JavaCompiler;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The packages of the project keep to their table, and each rule reports a class planted to break it. */
class ArchitectureTest {
    private static final Map<String, ArchRule> RULES = ArchitectureRules.all();
    /** Names in documents that are not types of the project. */
    private static final Set<String> WORDS_OF_OTHERS = Set.of("ApplicationName", "HttpOnly");

    private static JavaClasses project;

    @BeforeAll
    static void readTheProject() {
        project = new ClassFileImporter()
                .withImportOption(new ImportOption.DoNotIncludeTests())
                .importPackages(PackageTable.ROOT);
    }

    @Test
    void theProjectIsSeenAtAll() {
        assertThat(project.contain("ohmprint.impedance.ImpedanceCurve")).isTrue();
        assertThat(project.contain(ArchitectureTest.class)).isFalse();
    }

    @Test
    void theGuideForDevelopersRepeatsTheTable() throws IOException {
        Pattern row = Pattern.compile("\\| `([a-z]+)` \\|.*\\| ([a-z, –]+) \\|");
        Map<String, Set<String>> guide = Files.readAllLines(Path.of("DEVELOPERS.md")).stream()
                .map(row::matcher)
                .filter(Matcher::matches)
                .collect(Collectors.toMap(
                        line -> line.group(1),
                        line -> line.group(2).equals("–")
                                ? Set.of()
                                : Set.of(line.group(2).split(", "))));

        assertThat(guide).isEqualTo(PackageTable.rows());
    }

    /** A class that was renamed or merged is still named in a document: that sends a newcomer to look for nothing. */
    @Test
    void documentsNameTypesThatExist() throws IOException {
        Pattern declared = Pattern.compile("\\b(?:class|record|enum|interface) (\\w+)");
        Pattern named = Pattern.compile("`([A-Z][a-z]+(?:[A-Z][a-z]+)+)(?:\\.\\w+)?`");
        Set<String> known = new TreeSet<>(WORDS_OF_OTHERS);
        for (Path source : files(Path.of("src"), ".java")) {
            declared.matcher(Files.readString(source)).results().forEach(found -> known.add(found.group(1)));
        }
        List<Path> documents = new ArrayList<>(files(Path.of("src/site/markdown"), ".md"));
        documents.add(Path.of("DEVELOPERS.md"));
        for (Path document : documents) {
            assertThat(named.matcher(Files.readString(document)).results().map(found -> found.group(1)))
                    .as(document.toString())
                    .isSubsetOf(known);
        }
    }

    private static List<Path> files(Path folder, String ending) throws IOException {
        try (Stream<Path> all = Files.walk(folder)) {
            return all.filter(file -> file.toString().endsWith(ending)).toList();
        }
    }

    @TestFactory
    Stream<DynamicTest> theProjectKeeps() {
        return RULES.entrySet().stream()
                .map(rule -> DynamicTest.dynamicTest(
                        rule.getKey(), () -> rule.getValue().check(project)));
    }

    @Tag("slow")
    @ParameterizedTest(name = "{0}")
    @MethodSource("trespassers")
    void reportsATrespasser(Trespasser planted, @TempDir Path folder) throws IOException {
        JavaClasses classes = new ClassFileImporter().importPath(planted.compileInto(folder));

        List<String> broken = RULES.entrySet().stream()
                .filter(rule -> rule.getValue().evaluate(classes).hasViolation())
                .map(Map.Entry::getKey)
                .toList();

        assertThat(broken).containsExactly(planted.breaks);
    }

    @Test
    void everyRuleHasATrespasser() {
        List<String> caught = trespassers().map(t -> t.breaks).toList();

        assertThat(RULES.keySet()).allSatisfy(rule -> assertThat(caught).contains(rule));
    }

    static Stream<Trespasser> trespassers() {
        List<Trespasser> planted = new ArrayList<>();
        for (String name : PackageTable.rows().keySet()) {
            planted.add(reachesIntoTheForbidden(name));
        }
        planted.add(new Trespasser("every class is in a package of the table", "attic", "")
                .alongside("attic", nullMarkedInfo("attic")));
        planted.add(new Trespasser("no cycles", "circuit.valve", "Object o = new ohmprint.circuit.ribbon.Other();")
                .alongside("circuit.valve", nullMarkedInfo("circuit.valve"))
                .alongside("circuit.ribbon", nullMarkedInfo("circuit.ribbon"))
                .alongside("circuit.ribbon", "Other", "Object o = ohmprint.circuit.valve.Planted.class;"));
        planted.add(new Trespasser("packages are null-marked", "impedance", ""));
        planted.add(inMarked("no drawer for odds and ends", "dsp.util", ""));
        planted.add(inMarked("databases only in library", "session", "java.sql.Connection c;"));
        planted.add(inMarked("charts only in chart", "app", "org.jfree.chart.JFreeChart c;"));
        planted.add(inMarked("FFT only in dsp", "estimation", "org.jtransforms.fft.DoubleFFT_1D f;"));
        planted.add(inMarked("TarsosDSP only in dsp and audiodevice", "audiofile", "be.tarsos.dsp.AudioProcessor p;"));
        planted.add(inMarked("servers of pages only in web", "cli", "io.javalin.Javalin j;"));
        planted.add(inMarked("sound lines only in audiodevice", "dsp", "javax.sound.sampled.TargetDataLine l;"));
        planted.add(inMarked(
                "sound lines only in audiodevice",
                "audiofile",
                "Object o = javax.sound.sampled.AudioSystem.getMixerInfo();"));
        planted.add(inMarked(
                "audio file readers only in audiofile and audiodevice",
                "dsp",
                "Object o = javax.sound.sampled.AudioSystem.getAudioFileTypes();"));
        planted.add(inMarked("only cli prints", "estimation", "{ System.out.println(1); }"));
        planted.add(inMarked("only cli prints", "app", "{ System.err.println(1); }"));
        return planted.stream();
    }

    /** A class that uses the first package which its own row does not list. */
    private static Trespasser reachesIntoTheForbidden(String name) {
        String forbidden = PackageTable.rows().keySet().stream()
                .filter(other ->
                        !other.equals(name) && !PackageTable.rows().get(name).contains(other))
                .findFirst()
                .orElseThrow();
        return inMarked(name + " uses only its row", name, "ohmprint." + forbidden + ".Other o;")
                .alongside(forbidden, nullMarkedInfo(forbidden))
                .alongside(forbidden, "Other", "");
    }

    private static Trespasser inMarked(String breaks, String shortPackage, String body) {
        return new Trespasser(breaks, shortPackage, body).alongside(shortPackage, nullMarkedInfo(shortPackage));
    }

    private static String nullMarkedInfo(String shortPackage) {
        return "@org.jspecify.annotations.NullMarked package ohmprint." + shortPackage + ";";
    }

    /** A class named Planted in a package of the project, compiled on the spot, with others that it needs. */
    static final class Trespasser {
        private final String breaks;
        private final String shortPackage;
        private final Map<String, String> sources = new LinkedHashMap<>();

        Trespasser(String breaks, String shortPackage, String body) {
            this.breaks = breaks;
            this.shortPackage = shortPackage;
            alongside(shortPackage, "Planted", body);
        }

        Trespasser alongside(String inPackage, String className, String body) {
            sources.put(
                    file(inPackage, className),
                    "package ohmprint." + inPackage + "; public class " + className + " { " + body + " }");
            return this;
        }

        Trespasser alongside(String inPackage, String packageInfo) {
            sources.put(file(inPackage, "package-info"), packageInfo);
            return this;
        }

        private static String file(String inPackage, String name) {
            return "ohmprint/" + inPackage.replace('.', '/') + "/" + name + ".java";
        }

        Path compileInto(Path folder) throws IOException {
            Path classes = Files.createDirectories(folder.resolve("classes"));
            List<Path> files = new ArrayList<>();
            for (Map.Entry<String, String> source : sources.entrySet()) {
                Path file = folder.resolve("sources").resolve(source.getKey());
                Files.createDirectories(file.getParent());
                files.add(Files.writeString(file, source.getValue()));
            }
            JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
            StringWriter messages = new StringWriter();
            try (var manager = compiler.getStandardFileManager(null, null, null)) {
                boolean compiled = compiler.getTask(
                                messages,
                                manager,
                                null,
                                List.of("-d", classes.toString(), "-proc:none"),
                                null,
                                manager.getJavaFileObjectsFromPaths(files))
                        .call();
                assertThat(compiled).as(messages.toString()).isTrue();
            }
            return classes;
        }

        @Override
        public String toString() {
            return breaks + " (planted in " + shortPackage + ")";
        }
    }
}
