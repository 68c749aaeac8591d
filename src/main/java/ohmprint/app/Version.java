package ohmprint.app;

import org.jspecify.annotations.Nullable;

/** The program's version. */
public final class Version {
    private Version() {}

    /** Version from the jar's manifest; {@code development} when run from classes. */
    public static String current() {
        @Nullable String version = Version.class.getPackage().getImplementationVersion();
        return version == null ? "development" : version;
    }
}
