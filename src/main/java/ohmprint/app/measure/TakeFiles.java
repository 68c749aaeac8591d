package ohmprint.app.measure;

import java.io.IOException;
import ohmprint.audiofile.AudioFiles;
import ohmprint.audiofile.AudioFormatException;
import ohmprint.dsp.SampleSource;
import ohmprint.session.AudioProbe;
import ohmprint.session.AudioProbe.AudioShape;

/** What a session needs to know of its audio files. */
public final class TakeFiles {
    private TakeFiles() {}

    /** Shape of audio files by their headers. */
    public static AudioProbe probe() {
        return file -> {
            try (SampleSource source = AudioFiles.open(file)) {
                return new AudioShape(source.channels(), source.sampleRate(), source.frames());
            } catch (AudioFormatException e) {
                throw new IOException(withoutName(e), e);
            }
        };
    }

    private static String withoutName(AudioFormatException e) {
        String message = String.valueOf(e.getMessage());
        String name = e.file() + ": ";
        return message.startsWith(name) ? message.substring(name.length()) : message;
    }
}
