package ohmprint.app.workspace;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.session.Session;
import ohmprint.session.Take;

/**
 * The takes of a session as entries of its manifest; recordings themselves are never changed or removed.
 *
 * @param desk the session
 * @param places where files may lie
 */
public record Takes(Desk desk, Places places) {
    /** Makes a recording of the folder a take. */
    public SessionView add(TakeForm form) throws BadInputException, IOException {
        Take take = form.take();
        places.existing(desk.folder(), take.file());
        return desk.edit(s -> s.withTake(take));
    }

    /** Changes the entry of a take; its file stays. */
    public SessionView change(String file, Desk.Edit<TakeForm> edit) throws BadInputException, IOException {
        return desk.edit(s -> {
            List<Take> takes = new ArrayList<>(s.takes());
            int at = indexOf(s, file);
            Take after = edit.of(TakeForm.of(takes.get(at))).take();
            if (!after.file().equals(file)) {
                throw new BadInputException("the file of the take " + file + " cannot become " + after.file()
                        + "; take it out of the session and add the other");
            }
            takes.set(at, after);
            return s.withTakes(takes);
        });
    }

    /** Takes an entry out of the session; the recording stays in the folder. */
    public SessionView remove(String file) throws BadInputException, IOException {
        return desk.edit(s -> {
            List<Take> takes = new ArrayList<>(s.takes());
            takes.remove(indexOf(s, file));
            return s.withTakes(takes);
        });
    }

    private static int indexOf(Session session, String file) throws MissingException {
        for (int k = 0; k < session.takes().size(); k++) {
            if (session.takes().get(k).file().equals(file)) {
                return k;
            }
        }
        throw new MissingException("the session has no take " + file + "; reload the page to see which takes it has");
    }
}
