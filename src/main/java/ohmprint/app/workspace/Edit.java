package ohmprint.app.workspace;

import ohmprint.app.BadInputException;

/** A change of something that is filled in. */
@FunctionalInterface
public interface Edit<T> {
    /**
     * What it becomes.
     *
     * @param before what it is like now
     * @throws BadInputException if the change is none
     */
    T of(T before) throws BadInputException;
}
