package ohmprint.app.measure;

/** Getting ready for work that is to come while there is other work to do. */
final class Ahead {
    private Ahead() {}

    /** Starts it on a daemon thread of its own and returns at once. */
    static void start(String name, Runnable work) {
        Thread thread = new Thread(work, name);
        thread.setDaemon(true);
        thread.start();
    }
}
