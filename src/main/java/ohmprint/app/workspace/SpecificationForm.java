package ohmprint.app.workspace;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A specification that is kept.
 *
 * @param yaml its text
 * @param operator who keeps it; null for who usually works here
 */
public record SpecificationForm(
        @Nullable String yaml, @Nullable String operator) {
    /**
     * Names of those that are kept.
     *
     * @param names in order
     */
    public record Names(List<String> names) {}

    /**
     * One that is kept.
     *
     * @param name its name
     * @param yaml its text
     */
    public record Text(String name, String yaml) {}
}
