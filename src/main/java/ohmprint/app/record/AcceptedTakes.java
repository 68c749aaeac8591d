package ohmprint.app.record;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import ohmprint.app.measure.TakeInspection;
import ohmprint.files.FileStamp;
import ohmprint.session.Session;
import ohmprint.session.SessionWriter;
import ohmprint.session.Take;

/**
 * The takes that count, as the manifest has them, with their levels, which later takes are compared to. What changes is in
 * the manifest before it is seen here, so a kept take counts whatever happens next. One thread changes them; others may ask
 * for the session.
 */
final class AcceptedTakes {
    private volatile Session session;
    private List<KeptTake> takes;

    /**
     * A take of the session.
     *
     * @param take its entry
     * @param levels its levels
     * @param stamp what its file looked like when they were read
     */
    record KeptTake(Take take, TakeLevels levels, FileStamp stamp) {}

    private AcceptedTakes(Session session, List<KeptTake> takes) {
        this.session = session;
        this.takes = takes;
    }

    /**
     * Those of a session as it is.
     *
     * @throws IOException if a take cannot be read
     */
    static AcceptedTakes of(Session session) throws IOException {
        return new AcceptedTakes(session, measured(session, List.of()));
    }

    /** The session with them. */
    Session session() {
        return session;
    }

    /** The takes in order. */
    List<KeptTake> list() {
        return takes;
    }

    /**
     * Puts a take behind the others.
     *
     * @throws IOException if the manifest cannot be written; nothing has changed then
     */
    void add(Take take, TakeLevels levels) throws IOException {
        Session more = session.withTake(take);
        SessionWriter.write(more);
        session = more;
        List<KeptTake> all = new ArrayList<>(takes);
        all.add(new KeptTake(take, levels, stamp(more, take)));
        takes = List.copyOf(all);
    }

    /**
     * Puts another session of the same folder in the place of this one.
     *
     * @throws IOException if a take cannot be read or the manifest cannot be written; nothing has changed then
     */
    void replace(Session other) throws IOException {
        List<KeptTake> all = measured(other, takes);
        SessionWriter.write(other);
        session = other;
        takes = all;
    }

    /** The takes of a session with their levels; files are read of those alone that are not known, or are others now. */
    private static List<KeptTake> measured(Session session, List<KeptTake> known) throws IOException {
        List<KeptTake> takes = new ArrayList<>();
        for (Take take : session.takes()) {
            FileStamp stamp = stamp(session, take);
            Optional<KeptTake> same = known.stream()
                    .filter(k -> k.take().equals(take) && k.stamp().holds(stamp))
                    .findFirst();
            takes.add(
                    same.isPresent()
                            ? same.get()
                            : new KeptTake(take, TakeLevels.of(TakeInspection.of(session, take)), stamp));
        }
        return List.copyOf(takes);
    }

    private static FileStamp stamp(Session session, Take take) {
        return FileStamp.of(List.of(session.path(take)));
    }
}
