package ohmprint.wav;

import java.io.IOException;

/** What a FLAC frame cannot hold; {@link FlacReader} adds the file, the place and the next step. */
final class FlacDamage extends IOException {
    private static final long serialVersionUID = 1L;

    /**
     * A fault of one frame.
     *
     * @param fault what is wrong, as the end of a sentence that begins with the frame
     */
    FlacDamage(String fault) {
        super(fault);
    }
}
