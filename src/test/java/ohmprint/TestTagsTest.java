package ohmprint;

import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaCodeUnit;
import com.tngtech.archunit.core.domain.JavaCodeUnitAccess;
import com.tngtech.archunit.core.domain.JavaMethod;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.lang.reflect.AnnotatedElement;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Deque;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.platform.commons.support.AnnotationSupport;

/**
 * A test says what it costs, so that the plain run of Maven can leave it out: {@code browser}, {@code sound}, {@code process}
 * (another program or virtual machine), {@code statistics} (many drawn sessions) and {@code slow} (the class takes more than three
 * seconds). The first three are found in what a class uses, directly or through other test classes; the others cannot be seen in
 * the code.
 */
@Tag("slow")
class TestTagsTest {
    private static final Set<String> ALL = Set.of("browser", "sound", "process", "statistics", "slow");

    /** What a tag stands for, and the tags that say as much. */
    private static final Map<String, Cost> COSTS = Map.of(
            "browser", new Cost(name -> name.startsWith("com.microsoft.playwright."), Set.of("browser")),
            "sound", new Cost("ohmprint.loopback.SoundServer"::equals, Set.of("sound")),
            "process", new Cost("java.lang.ProcessBuilder"::equals, Set.of("browser", "sound", "process")));

    private static JavaClasses classes;

    private record Cost(Predicate<String> sign, Set<String> sayIt) {}

    @BeforeAll
    static void read() {
        classes = new ClassFileImporter()
                .importUrl(
                        TestTagsTest.class.getProtectionDomain().getCodeSource().getLocation());
        assertThat(classes).hasSizeGreaterThan(100);
    }

    @TestFactory
    List<DynamicTest> whatIsUsedIsTagged() {
        return COSTS.entrySet().stream()
                .map(cost -> DynamicTest.dynamicTest(
                        cost.getKey(),
                        () -> assertThat(untagged(cost.getValue()))
                                .as("tests that need the tag " + cost.getKey())
                                .isEmpty()))
                .toList();
    }

    @Test
    void onlyTagsThatTheBuildKnowsAreUsed() {
        Set<String> used = new HashSet<>();
        for (JavaClass c : classes) {
            used.addAll(tags(c.reflect()));
            c.getMethods().forEach(m -> used.addAll(methodTags(m)));
        }
        assertThat(ALL).containsAll(used);
    }

    private static List<String> untagged(Cost cost) {
        return classes.stream()
                .filter(c -> Collections.disjoint(tags(c.reflect()), cost.sayIt()))
                .flatMap(c -> c.getCodeUnits().stream())
                .filter(TestTagsTest::isRunByJUnit)
                .filter(unit -> Collections.disjoint(methodTags(unit), cost.sayIt()) && reaches(unit, cost))
                .map(JavaCodeUnit::getFullName)
                .sorted()
                .toList();
    }

    private static boolean isRunByJUnit(JavaCodeUnit unit) {
        return unit.getAnnotations().stream()
                .anyMatch(a -> a.getRawType().getPackageName().startsWith("org.junit.jupiter"));
    }

    /** Whether a test, or what it calls among the tests, calls something that has the sign. */
    private static boolean reaches(JavaCodeUnit start, Cost cost) {
        Set<JavaCodeUnit> seen = new HashSet<>(Set.of(start));
        Deque<JavaCodeUnit> open = new ArrayDeque<>(seen);
        start.getOwner().getConstructors().stream().filter(seen::add).forEach(open::push);
        while (!open.isEmpty()) {
            for (JavaCodeUnitAccess<?> access : accesses(open.pop())) {
                String owner = access.getTargetOwner().getName();
                if (cost.sign().test(owner)) {
                    return true;
                }
                if (classes.contain(owner)) {
                    access.getTarget().resolveMember().filter(seen::add).ifPresent(open::push);
                    classes.get(owner).getStaticInitializer().filter(seen::add).ifPresent(open::push);
                }
            }
        }
        return false;
    }

    private static List<JavaCodeUnitAccess<?>> accesses(JavaCodeUnit unit) {
        List<JavaCodeUnitAccess<?>> out = new ArrayList<>(unit.getCallsFromSelf());
        out.addAll(unit.getMethodReferencesFromSelf());
        out.addAll(unit.getConstructorReferencesFromSelf());
        return out;
    }

    private static Set<String> methodTags(JavaCodeUnit unit) {
        return unit instanceof JavaMethod method ? tags(method.reflect()) : Set.of();
    }

    /** Tags of a class, with those of the classes around and above it. */
    private static Set<String> tags(Class<?> type) {
        Set<String> out = new HashSet<>();
        for (Class<?> at = type; at != null; at = at.getEnclosingClass()) {
            for (Class<?> up = at; up != null; up = up.getSuperclass()) {
                out.addAll(tags((AnnotatedElement) up));
            }
        }
        return out;
    }

    private static Set<String> tags(AnnotatedElement element) {
        return AnnotationSupport.findRepeatableAnnotations(element, Tag.class).stream()
                .map(Tag::value)
                .collect(Collectors.toSet());
    }
}
