package ohmprint.yaml;

import java.io.IOException;
import java.io.InputStream;
import java.math.BigDecimal;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CoderResult;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.DumperOptions;
import org.yaml.snakeyaml.DumperOptions.FlowStyle;
import org.yaml.snakeyaml.DumperOptions.NonPrintableStyle;
import org.yaml.snakeyaml.Yaml;

/** A small text file that people write and read: UTF-8, with or without a byte order mark; and YAML that is written for them. */
public final class ManifestText {
    /** Largest file that is read, in bytes: thousands of takes. */
    public static final int MOST_BYTES = 1 << 20;

    private static final double LARGEST_PLAIN = 1e15;

    private ManifestText() {}

    /**
     * The text of a file, without a byte order mark.
     *
     * @param name the file's name in messages
     * @throws ManifestException if it cannot be read, is too large, empty, or not UTF-8
     */
    public static String read(Path file, String name) throws ManifestException {
        byte[] bytes;
        try (InputStream in = Files.newInputStream(file)) {
            bytes = in.readNBytes(MOST_BYTES + 1);
        } catch (IOException e) {
            throw problem(name, 0, "cannot be read (" + reason(e) + "); check its permissions");
        }
        return decode(bytes, name);
    }

    /**
     * The text that bytes hold, without a byte order mark.
     *
     * @param name the file's name in messages
     * @throws ManifestException if it is too large, empty, or not UTF-8
     */
    public static String decode(byte[] bytes, String name) throws ManifestException {
        if (bytes.length > MOST_BYTES) {
            throw problem(
                    name, 0, "is larger than " + MOST_BYTES / 1024 + " KiB; this is not the text file expected here");
        }
        if (bytes.length >= 2
                && ((bytes[0] == (byte) 0xFE && bytes[1] == (byte) 0xFF)
                        || (bytes[0] == (byte) 0xFF && bytes[1] == (byte) 0xFE))) {
            throw problem(name, 1, "is UTF-16 text; save it as UTF-8");
        }
        CharsetDecoder decoder = StandardCharsets.UTF_8
                .newDecoder()
                .onMalformedInput(CodingErrorAction.REPORT)
                .onUnmappableCharacter(CodingErrorAction.REPORT);
        CharBuffer text = CharBuffer.allocate(bytes.length);
        CoderResult result = decoder.decode(ByteBuffer.wrap(bytes), text, true);
        text.flip();
        String decoded = text.toString();
        if (result.isError()) {
            throw problem(name, lineAt(decoded, decoded.length()), "is not UTF-8 text; save it as UTF-8");
        }
        int nul = decoded.indexOf('\0');
        if (nul >= 0) {
            throw problem(name, lineAt(decoded, nul), "holds binary data; give the path of a text file");
        }
        String content = decoded.startsWith("\uFEFF") ? decoded.substring(1) : decoded;
        if (content.isBlank()) {
            throw problem(name, 0, "is empty; write it anew or restore it from a backup");
        }
        return content;
    }

    /**
     * Keys and values as YAML, such that {@link Section} reads them back.
     *
     * @param tree maps, lists, numbers and texts
     * @param compact whether a map or list without others in it stands on one line
     */
    public static String write(Map<String, Object> tree, boolean compact) {
        DumperOptions options = new DumperOptions();
        options.setDefaultFlowStyle(compact ? FlowStyle.AUTO : FlowStyle.BLOCK);
        options.setAllowUnicode(true);
        options.setNonPrintableStyle(NonPrintableStyle.ESCAPE);
        options.setSplitLines(false);
        options.setIndicatorIndent(2);
        options.setIndentWithIndicator(true);
        return new Yaml(options).dump(tree);
    }

    /** Adds a value to what is to be written, unless it is null; a whole number without a fraction, as people write it. */
    public static void put(Map<String, Object> part, String key, @Nullable Object value) {
        if (value instanceof Double number && number == Math.rint(number) && Math.abs(number) < LARGEST_PLAIN) {
            part.put(key, BigDecimal.valueOf(number).toBigIntegerExact());
        } else if (value != null) {
            part.put(key, value);
        }
    }

    /** The line, from 1, of a position in a text with any line ends. */
    public static int lineAt(String text, int index) {
        int line = 1;
        for (int i = 0; i < Math.min(index, text.length()); i++) {
            char c = text.charAt(i);
            if (c == '\n' || (c == '\r' && !(i + 1 < text.length() && text.charAt(i + 1) == '\n'))) {
                line++;
            }
        }
        return line;
    }

    /** What an I/O error says: its class tells more than its message, which often is only the path. */
    public static String reason(IOException e) {
        String message = e.getMessage();
        String kind = e.getClass().getSimpleName().replace("Exception", "");
        return e.getClass() == IOException.class && message != null ? Problems.shown(message) : kind;
    }

    private static ManifestException problem(String name, int line, String message) {
        Problems problems = new Problems(name);
        problems.add(line, message);
        return problems.exception();
    }
}
