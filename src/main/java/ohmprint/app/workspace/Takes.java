package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.TakeFiles;
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
        check(take);
        return desk.edit(s -> s.withTake(take));
    }

    /** Changes the entry of a take; its file stays. */
    public SessionView change(String file, Edit<TakeForm> edit) throws BadInputException, IOException {
        return desk.edit(s -> {
            List<Take> takes = new ArrayList<>(s.takes());
            int at = indexOf(s, file);
            Take after = edit.of(TakeForm.of(takes.get(at))).take();
            if (!after.file().equals(file)) {
                throw new BadInputException("the file of the take " + file + " cannot become " + after.file()
                        + "; take it out of the session and add the other");
            }
            check(after);
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

    /** Refuses what a session could not be read with. */
    private void check(Take take) throws BadInputException, IOException {
        if (AudioFileView.isUnfinished(take.file())) {
            throw new ConflictException(take.file() + " is being recorded or was broken off; open the recorder, which"
                    + " gives it its name");
        }
        Path file = places.existing(desk.folder(), take.file());
        int channels;
        try {
            channels = TakeFiles.probe().shape(file).channels();
        } catch (IOException e) {
            throw new BadInputException(take.file() + " cannot be read as audio; export it again as WAV", e);
        }
        Integer reference = take.referenceChannel();
        int highest = Math.max(take.channel(), reference == null ? 1 : reference);
        if (highest > channels || take.channel() < 1 || (reference != null && reference < 1)) {
            throw new BadInputException(take.file() + " has " + channels + (channels == 1 ? " channel" : " channels")
                    + ", so there is no channel " + (highest > channels ? highest : 0) + "; correct the number");
        }
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
