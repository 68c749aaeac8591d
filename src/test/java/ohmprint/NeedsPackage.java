package ohmprint;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.extension.ConditionEvaluationResult;
import org.junit.jupiter.api.extension.ExecutionCondition;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.extension.ExtensionContext;
import org.junit.platform.commons.support.AnnotationSupport;

/**
 * Marks a test that runs a program of the system, by the name of the Debian package that holds it.
 *
 * <p>{@code scripts/test} installs such packages and lists those it could not install in the environment variable
 * {@value #MISSING}; a marked test is then skipped, by name and with the reason. Without the variable every package is
 * taken to be there.
 */
@Target({ElementType.TYPE, ElementType.METHOD})
@Retention(RetentionPolicy.RUNTIME)
@ExtendWith(NeedsPackage.Condition.class)
public @interface NeedsPackage {
    /** Environment variable with the names of missing packages, separated by spaces. */
    String MISSING = "OHMPRINT_MISSING_PACKAGES";

    /** Names of the Debian packages without which the test cannot run. */
    String[] value();

    /** Skips a marked test when one of its packages is missing. */
    final class Condition implements ExecutionCondition {
        @Override
        public ConditionEvaluationResult evaluateExecutionCondition(ExtensionContext context) {
            return AnnotationSupport.findAnnotation(context.getElement(), NeedsPackage.class)
                    .map(needs -> decide(List.of(needs.value()), System.getenv(MISSING)))
                    .orElseGet(() -> ConditionEvaluationResult.enabled("needs no package"));
        }

        static ConditionEvaluationResult decide(List<String> needed, String missing) {
            List<String> absent = missing == null ? List.of() : Arrays.asList(missing.split(" "));
            return needed.stream()
                    .filter(absent::contains)
                    .findFirst()
                    .map(name -> ConditionEvaluationResult.disabled("needs the package " + name + ", not installed"))
                    .orElseGet(() -> ConditionEvaluationResult.enabled("packages present: " + needed));
        }
    }
}
