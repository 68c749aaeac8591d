package ohmprint.app.workspace;

import java.io.IOException;
import java.lang.ref.SoftReference;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.app.measure.LoadLines;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.measure.MeasureSession;
import ohmprint.files.FileStamp;
import ohmprint.session.Session;

/** The straight lines of a session in any band. What they are drawn from is kept as long as memory allows. */
final class LineDrawing {
    private final Path folder;
    private final PathGuard places;
    private SoftReference<Ready> kept = new SoftReference<>(null);

    /** Lines with what they were made from. */
    private record Ready(Session session, MeasureRequest request, FileStamp stamp, LoadLines lines) {}

    LineDrawing(Path folder, PathGuard places) {
        this.folder = folder;
        this.places = places;
    }

    /** The picture of a band of a measured session, by the grid and the route of its result. */
    synchronized String svg(NamedCurve measured, double hz, boolean dark) throws BadInputException, IOException {
        Manifest manifest = Manifest.read(folder, places);
        Session session = manifest.session();
        if (session == null || manifest.problem() != null) {
            throw new ConflictException(String.valueOf(manifest.problem()));
        }
        MeasureRequest usual = MeasureRequest.of(folder);
        MeasureRequest request = new MeasureRequest(
                folder,
                null,
                measured.measurement().curve().bands().fraction(),
                measured.measurement().route(),
                usual.fromHz(),
                usual.toHz(),
                false);
        List<Path> recordings =
                new ArrayList<>(session.takes().stream().map(session::path).toList());
        session.stimulusPath().ifPresent(recordings::add);
        FileStamp stamp = FileStamp.of(recordings);
        Ready ready = kept.get();
        if (ready == null
                || !ready.session().equals(session)
                || !ready.request().equals(request)
                || !ready.stamp().holds(stamp)) {
            ready = new Ready(session, request, stamp, MeasureSession.lines(request));
            kept = new SoftReference<>(ready);
        }
        return ready.lines().svg(hz, dark);
    }
}
