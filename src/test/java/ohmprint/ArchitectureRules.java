package ohmprint;

import static com.tngtech.archunit.core.domain.JavaClass.Predicates.assignableTo;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAnyPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideOutsideOfPackages;
import static com.tngtech.archunit.lang.conditions.ArchPredicates.are;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.GeneralCodingRules.ACCESS_STANDARD_STREAMS;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaMethodCall;
import com.tngtech.archunit.lang.ArchCondition;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.lang.ConditionEvents;
import com.tngtech.archunit.lang.SimpleConditionEvent;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;
import javax.sound.sampled.AudioSystem;
import javax.sound.sampled.Line;
import javax.sound.sampled.Mixer;
import org.jspecify.annotations.NullMarked;

/** The rules that keep the packages apart, each by the name under which a test reports it. */
final class ArchitectureRules {
    /** What AudioSystem does with files and formats; everything else that it does opens or lists devices. */
    private static final Set<String> AUDIO_FILE_METHODS = Set.of(
            "getAudioInputStream",
            "getAudioFileFormat",
            "getAudioFileTypes",
            "isFileTypeSupported",
            "isConversionSupported",
            "getTargetEncodings",
            "getTargetFormats",
            "write");

    private ArchitectureRules() {}

    /** All rules by name. */
    static Map<String, ArchRule> all() {
        Map<String, ArchRule> rules = new LinkedHashMap<>();
        PackageTable.rows().forEach((name, mayUse) -> rules.put(name + " uses only its row", onlyItsRow(name, mayUse)));
        rules.put("every class is in a package of the table", everyClassInTheTable());
        rules.put(
                "no cycles",
                slices().matching(PackageTable.ROOT + ".(**)").should().beFreeOfCycles());
        rules.put("packages are null-marked", nullMarked());
        rules.put("no drawer for odds and ends", noOddsAndEnds());
        rules.put(
                "databases only in library",
                noClasses()
                        .that(are(outside("library")))
                        .should()
                        .dependOnClassesThat(resideInAnyPackage(
                                "java.sql..",
                                "javax.sql..",
                                "org.jdbi..",
                                "org.flywaydb..",
                                "org.sqlite..",
                                "org.postgresql..")));
        rules.put("charts only in chart", libraryOnlyIn("org.jfree..", "chart"));
        rules.put("FFT only in dsp", libraryOnlyIn("org.jtransforms..", "dsp"));
        rules.put("TarsosDSP only in dsp and audiodevice", libraryOnlyIn("be.tarsos..", "dsp", "audiodevice"));
        rules.put(
                "servers of pages only in web",
                noClasses()
                        .that(are(outside("web")))
                        .should()
                        .dependOnClassesThat(
                                resideInAnyPackage("io.javalin..", "org.eclipse.jetty..", "jakarta.servlet..")));
        rules.put("sound lines only in audiodevice", soundLines());
        rules.put("audio file readers only in audiofile and audiodevice", audioFiles());
        rules.put("only cli prints", onlyCliPrints());
        rules.replaceAll((name, rule) -> rule.allowEmptyShould(true));
        return rules;
    }

    private static ArchRule onlyItsRow(String name, Set<String> mayUse) {
        String[] open = mayUse.stream().map(PackageTable::pattern).toArray(String[]::new);
        DescribedPredicate<JavaClass> closed = resideInAPackage(PackageTable.ROOT + "..")
                .and(resideOutsideOfPackages(PackageTable.pattern(name)))
                .and(resideOutsideOfPackages(open))
                .as("classes of the project outside %s and %s", name, mayUse);
        return noClasses()
                .that()
                .resideInAPackage(PackageTable.pattern(name))
                .should()
                .dependOnClassesThat(are(closed));
    }

    private static ArchRule everyClassInTheTable() {
        return classes()
                .that()
                .resideInAPackage(PackageTable.ROOT + "..")
                .should()
                .resideInAnyPackage(inTable(PackageTable.rows().keySet().toArray(String[]::new)));
    }

    private static ArchRule nullMarked() {
        return classes()
                .that()
                .resideInAPackage(PackageTable.ROOT + "..")
                .should(new ArchCondition<>("have a package-info.java with @NullMarked") {
                    @Override
                    public void check(JavaClass item, ConditionEvents events) {
                        boolean marked = item.getPackage().isAnnotatedWith(NullMarked.class);
                        events.add(new SimpleConditionEvent(
                                item, marked, item.getName() + " is in a package without @NullMarked"));
                    }
                });
    }

    private static ArchRule noOddsAndEnds() {
        return noClasses()
                .that()
                .resideInAPackage(PackageTable.ROOT + "..")
                .should()
                .resideInAnyPackage(
                        "..util..", "..utils..", "..common..", "..helper..", "..helpers..", "..model..", "..manager..");
    }

    private static ArchRule libraryOnlyIn(String library, String... doors) {
        return noClasses().that(are(outside(doors))).should().dependOnClassesThat(resideInAnyPackage(library));
    }

    private static ArchRule soundLines() {
        DescribedPredicate<JavaClass> lines = assignableTo(Line.class)
                .or(assignableTo(Line.Info.class))
                .or(assignableTo(Mixer.Info.class))
                .as("sound lines and mixers");
        DescribedPredicate<JavaMethodCall> opening = DescribedPredicate.describe(
                "AudioSystem methods that open or list devices",
                call -> call.getTargetOwner().isEquivalentTo(AudioSystem.class)
                        && !AUDIO_FILE_METHODS.contains(call.getName()));
        return noClasses()
                .that(are(outside("audiodevice")))
                .should()
                .dependOnClassesThat(are(lines))
                .orShould()
                .callMethodWhere(opening);
    }

    private static ArchRule audioFiles() {
        return noClasses()
                .that(are(outside("audiofile", "audiodevice")))
                .should()
                .dependOnClassesThat(assignableTo(AudioSystem.class));
    }

    private static ArchRule onlyCliPrints() {
        return noClasses().that(are(outside("cli"))).should(ACCESS_STANDARD_STREAMS);
    }

    private static DescribedPredicate<JavaClass> outside(String... shortNames) {
        return resideInAPackage(PackageTable.ROOT + "..")
                .and(resideOutsideOfPackages(inTable(shortNames)))
                .as("classes of the project outside %s", String.join(" and ", shortNames));
    }

    private static String[] inTable(String... shortNames) {
        return Arrays.stream(shortNames).map(PackageTable::pattern).toArray(String[]::new);
    }
}
