package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.Demo;
import ohmprint.app.record.Setup;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.files.Leftovers;
import ohmprint.impedance.Microphone;
import ohmprint.session.Session;
import ohmprint.session.SessionWriter;
import org.jspecify.annotations.Nullable;

/**
 * Makes folders of sessions. A folder is filled under a hidden name and then renamed, so that it is there whole or not at
 * all.
 */
public final class SessionCreator {
    private final PathGuard places;

    SessionCreator(PathGuard places) {
        this.places = places;
    }

    /**
     * Begins a session.
     *
     * @return its name
     */
    synchronized String begin(Request form) throws BadInputException, IOException {
        Microphone microphone = form.microphone() == null ? null : Manifest.microphone(form.microphone());
        String label = microphone == null ? "" : microphone.label();
        if (microphone != null && label.isEmpty()) {
            throw new BadInputException("the microphone has no label; give what the bench calls it");
        }
        List<Load> loads =
                form.loads() == null ? null : Setup.loads(form.loads().loads());
        String name = form.name() == null ? free(PathGuard.folderName(label)) : form.name();
        Path target = places.session(name);
        if (Files.exists(target, LinkOption.NOFOLLOW_LINKS)) {
            throw new ConflictException(name + " is in the workspace already; give the session another name");
        }
        Manifest.InputEntry input = form.input();
        return filled(target, folder -> {
            if (microphone != null) {
                Session bare = new Session(folder, microphone, InputImpedance.unknown(), List.of());
                SessionWriter.write(input == null ? bare : input.into(bare, places));
            }
            if (loads != null) {
                Setup.plan(folder, loads);
            }
        });
    }

    /**
     * Unpacks the session that comes with the program.
     *
     * @return its name
     */
    synchronized String demo() throws BadInputException, IOException {
        return filled(places.session(free("demo")), Demo::unpack);
    }

    private String free(String wanted) throws BadInputException, IOException {
        String name = wanted;
        for (int n = 2; Files.exists(places.root().resolve(name), LinkOption.NOFOLLOW_LINKS); n++) {
            name = wanted + "-" + n;
        }
        return name;
    }

    /** What fills a folder. */
    @FunctionalInterface
    private interface Filling {
        void fill(Path folder) throws BadInputException, IOException;
    }

    private String filled(Path target, Filling filling) throws BadInputException, IOException {
        Path part = Files.createDirectory(Leftovers.name(places.root()));
        boolean done = false;
        try {
            filling.fill(part);
            Files.move(part, target);
            done = true;
        } catch (FileAlreadyExistsException e) {
            throw new ConflictException(target.getFileName() + " is in the workspace already; give another name");
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        } finally {
            if (!done) {
                Leftovers.remove(part);
            }
        }
        return String.valueOf(target.getFileName());
    }

    /**
     * A session that is to be begun.
     *
     * @param name name of its folder, or null to make one from the label
     * @param microphone what is measured; null for an empty folder that a manifest is put into
     * @param input the recording input, or null for one that is not known
     * @param loads loads to be recorded, or null
     */
    public record Request(
            @Nullable String name,
            @Nullable Microphone microphone,
            Manifest.@Nullable InputEntry input,
            Recorder.@Nullable Loads loads) {}
}
