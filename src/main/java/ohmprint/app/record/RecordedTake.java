package ohmprint.app.record;

import java.util.List;
import ohmprint.app.measure.TakeInspection;
import ohmprint.audiodevice.RunReport;
import ohmprint.files.FileStamp;
import ohmprint.session.Session;
import ohmprint.session.Take;

/**
 * A take that was just recorded, with what it can be compared to.
 *
 * @param session the session, without this take
 * @param take the take, under the name of its file at this moment
 * @param inspection its first pass
 * @param run how playing and recording went
 * @param sound what was played, relative to full scale
 * @param rate sample rate in hertz
 * @param bands its levels
 * @param earlier the kept takes with their levels, in order
 */
record RecordedTake(
        Session session,
        Take take,
        TakeInspection inspection,
        RunReport run,
        double[] sound,
        double rate,
        TakeLevels bands,
        List<KeptTake> earlier) {
    /**
     * A take of the session.
     *
     * @param take its entry
     * @param levels its levels
     * @param stamp what its file looked like when they were read
     */
    record KeptTake(Take take, TakeLevels levels, FileStamp stamp) {}
}
