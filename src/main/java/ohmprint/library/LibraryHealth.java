package ohmprint.library;

import java.util.List;

/**
 * What a look over a library found.
 *
 * @param measurements how many measurements it holds
 * @param problems what is wrong, in words; empty when nothing is
 */
public record LibraryHealth(int measurements, List<String> problems) {
    /** Copies the list. */
    public LibraryHealth {
        problems = List.copyOf(problems);
    }
}
