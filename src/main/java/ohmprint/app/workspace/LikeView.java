package ohmprint.app.workspace;

import java.util.List;
import ohmprint.app.library.FindLike;

/**
 * What a library holds that resembles a curve, in plain values.
 *
 * @param label microphone of the curve that was asked about
 * @param parallelWithInput whether its ohms are those in parallel with the input, and so too low
 * @param caution what has to be kept in mind
 * @param likes the likest, likest first
 */
public record LikeView(String label, boolean parallelWithInput, String caution, List<Like> likes) {
    /**
     * One that resembles it.
     *
     * @param entry the measurement
     * @param words how much, in words
     * @param differencePercent root mean square difference of |Z| in percent
     * @param bands number of third octaves compared
     */
    public record Like(EntryView entry, String words, double differencePercent, int bands) {}

    static LikeView of(FindLike.Outcome found) {
        return new LikeView(
                found.label(),
                found.parallelWithInput(),
                FindLike.CAUTION,
                found.likes().stream()
                        .map(l -> new Like(EntryView.of(l.entry()), l.words(), l.differencePercent(), l.bands()))
                        .toList());
    }
}
