package ohmprint.app.workspace;

/** Hears what happens at a desk, in order; must return at once. */
@FunctionalInterface
public interface DeskListener {
    /**
     * Something happened.
     *
     * @param event it
     */
    void happened(DeskEvent event);
}
