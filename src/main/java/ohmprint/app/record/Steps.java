package ohmprint.app.record;

import java.util.Locale;

/** The step at which a recording stands; what is not its turn is refused. One thread moves it, others may ask. */
final class Steps {
    private final RecordListener listener;
    private volatile Step at;

    Steps(Step first, RecordListener listener) {
        this.at = first;
        this.listener = listener;
    }

    Step at() {
        return at;
    }

    /**
     * Goes from one step to another and tells the listener.
     *
     * @throws IllegalStateException if it does not stand at the first
     */
    void move(Step from, Step to) {
        synchronized (this) {
            if (at != from) {
                throw new IllegalStateException("the step is " + at.name().toLowerCase(Locale.ROOT) + ", not "
                        + from.name().toLowerCase(Locale.ROOT));
            }
            at = to;
        }
        listener.stepped(to);
    }
}
