package ohmprint.audiofile;

import java.io.EOFException;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/** Positioned reads from a file that must not end early, and the identifiers in them. */
final class FileBytes {
    private FileBytes() {}

    /** Makes something of an opened file. */
    @FunctionalInterface
    interface Opening<R> {
        /** What the file holds, read from its channel, which stays open. */
        R from(FileChannel channel) throws IOException;
    }

    /**
     * Opens a sound file for reading, and closes it again when that comes to nothing.
     *
     * @throws AudioFormatException if there is no such file, or it is a folder
     * @throws IOException if it cannot be opened, or {@code opening} throws it
     */
    static <R> R open(Path file, Opening<R> opening) throws IOException {
        FileChannel channel = open(file);
        try {
            return opening.from(channel);
        } catch (IOException | RuntimeException e) {
            channel.close();
            throw e;
        }
    }

    /**
     * Opens a sound file for reading.
     *
     * @throws AudioFormatException if there is no such file, or it is a folder
     * @throws IOException if it cannot be opened
     */
    static FileChannel open(Path file) throws IOException {
        if (Files.isDirectory(file)) {
            throw new AudioFormatException(file, "is a folder", "name a sound file in it");
        }
        try {
            return FileChannel.open(file, StandardOpenOption.READ);
        } catch (NoSuchFileException e) {
            throw new AudioFormatException(file, "does not exist", "check the name and the folder", e);
        }
    }

    /**
     * The first {@code count} bytes of a file as a little-endian buffer.
     *
     * @param nextStep what to do about a file that has fewer
     */
    static ByteBuffer header(Path file, FileChannel channel, int count, String nextStep) throws IOException {
        if (channel.size() < count) {
            throw new AudioFormatException(
                    file, "is only " + channel.size() + " bytes long, shorter than a header", nextStep);
        }
        return read(channel, 0, count);
    }

    /** Reads {@code count} bytes from {@code position} as a little-endian buffer. */
    static ByteBuffer read(FileChannel channel, long position, int count) throws IOException {
        ByteBuffer buffer = ByteBuffer.allocate(count).order(ByteOrder.LITTLE_ENDIAN);
        fill(channel, position, buffer);
        return buffer.flip();
    }

    /** Fills the rest of the buffer from {@code position}. */
    static void fill(FileChannel channel, long position, ByteBuffer buffer) throws IOException {
        long at = position;
        while (buffer.hasRemaining()) {
            int got = channel.read(buffer, at);
            if (got < 0) {
                throw new EOFException("the file ends at byte " + at);
            }
            at += got;
        }
    }

    /** The four-character identifier at an index. */
    static String id(ByteBuffer buffer, int at) {
        byte[] id = new byte[4];
        buffer.get(at, id);
        return new String(id, StandardCharsets.ISO_8859_1);
    }
}
