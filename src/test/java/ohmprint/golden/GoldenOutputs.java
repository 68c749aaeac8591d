package ohmprint.golden;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.MathContext;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import javax.imageio.ImageIO;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;

/**
 * What one part of the program puts out: texts under names. Each is written whole below {@code target/golden}; what is
 * stored and compared has its numbers rounded to six significant digits, because another processor's last digit does not
 * matter, and a long text is stored as a digest alone.
 */
final class GoldenOutputs {
    /** Where the stored outputs are. */
    static final Path STORED = Path.of("fixtures/golden/program");

    /** Where those of this tree are written. */
    static final Path ACTUAL = Path.of("target/golden");

    private static final String DIGESTS = "digests.txt";
    private static final int LONGEST = 24_000;
    private static final int SHOWN = 200;
    private static final int LONGEST_DATA = 4_000;
    private static final MathContext DIGITS = new MathContext(6);
    private static final Pattern NUMBER = Pattern.compile("(?<![0-9.])[0-9]+\\.[0-9]+([eE][-+]?[0-9]+)?(?![0-9.])");
    private static final Pattern PICTURE = Pattern.compile("<svg.*?</svg>", Pattern.DOTALL);
    private static final Pattern DATA = Pattern.compile("data:[a-z]+/[a-z0-9+-]+;base64,[A-Za-z0-9+/=]+");

    private final String part;
    private final Placeholders placeholders;
    private final Map<String, String> texts = new TreeMap<>();
    private final Map<String, String> digests = new TreeMap<>();

    GoldenOutputs(String part, Placeholders placeholders) throws IOException {
        this.part = part;
        this.placeholders = placeholders;
        emptied(ACTUAL.resolve(part));
    }

    /** From now on a word gives way to a placeholder. */
    void word(String word, String placeholder) {
        placeholders.word(word, placeholder);
    }

    /** Takes in a text. */
    void text(String name, String text) throws IOException {
        String pinned = placeholders.pinned(text);
        write(ACTUAL.resolve(part).resolve(name), pinned.getBytes(StandardCharsets.UTF_8));
        String rounded = rounded(pinned);
        String before = isLong(name, rounded)
                ? digests.put(
                        name,
                        "sha256 " + sha256(rounded) + ", " + rounded.lines().count() + " lines")
                : texts.put(name, rounded);
        if (before != null) {
            throw new IllegalArgumentException(part + " has two outputs of the name " + name);
        }
    }

    /** Words are stored to greater lengths than numbers; a drawing has a single line, in which no difference can be seen. */
    private static boolean isLong(String name, String text) {
        boolean words = name.endsWith(".txt") || name.endsWith(".html");
        return name.endsWith(".svg") || text.length() > (words ? LONGEST : LONGEST_DATA);
    }

    /** Takes in a file by what its name says that it is. */
    void file(String name, byte[] bytes) throws IOException {
        switch (name.substring(name.lastIndexOf('.') + 1)) {
            case "png" -> {
                // Its letters are those of the fonts of this computer.
                write(ACTUAL.resolve(part).resolve(name), bytes);
                BufferedImage image = ImageIO.read(new ByteArrayInputStream(bytes));
                text(name + ".txt", "PNG of " + image.getWidth() + " by " + image.getHeight() + " pixels\n");
            }
            case "wav" -> {
                write(ACTUAL.resolve(part).resolve(name), bytes);
                text(name + ".txt", WavText.of(bytes));
            }
            case "pdf" -> text(name + ".txt", ofPdf(bytes));
            case "zip" -> zip(name, bytes);
            case "html" -> html(name, new String(bytes, StandardCharsets.UTF_8));
            default -> text(name, new String(bytes, StandardCharsets.UTF_8));
        }
    }

    /** Takes in all files of a folder. The digests that one of them tells of the others give way to their names. */
    void folder(String name, Path folder) throws IOException {
        List<Path> files = files(folder);
        for (Path file : files) {
            digestIsName(slashed(folder, file), Files.readAllBytes(file));
        }
        for (Path file : files) {
            file(name + "/" + slashed(folder, file), Files.readAllBytes(file));
        }
    }

    private void digestIsName(String name, byte[] bytes) {
        word(HexFormat.of().formatHex(digest(bytes)), "<sha256 of " + name + ">");
    }

    private void zip(String name, byte[] bytes) throws IOException {
        Map<String, byte[]> entries = new LinkedHashMap<>();
        try (ZipInputStream in = new ZipInputStream(new ByteArrayInputStream(bytes))) {
            for (ZipEntry entry; (entry = in.getNextEntry()) != null; ) {
                entries.put(entry.getName(), in.readAllBytes());
            }
        }
        entries.forEach(this::digestIsName);
        for (Map.Entry<String, byte[]> entry : entries.entrySet()) {
            file(name + "/" + entry.getKey(), entry.getValue());
        }
        text(name + ".txt", String.join("\n", entries.keySet()) + "\n");
    }

    /** The words of a page, and its pictures by themselves. */
    private void html(String name, String html) throws IOException {
        StringBuilder words = new StringBuilder();
        Matcher picture = PICTURE.matcher(html);
        for (int n = 1; picture.find(); n++) {
            text(name + "-" + n + ".svg", picture.group());
            picture.appendReplacement(words, "<svg>" + n + "</svg>");
        }
        picture.appendTail(words);
        String plain = DATA.matcher(words)
                .replaceAll(data -> data.group().substring(0, data.group().indexOf(',')) + ","
                        + sha256(data.group()).substring(0, 16));
        text(name, plain);
    }

    private static String ofPdf(byte[] bytes) throws IOException {
        try (PDDocument document = Loader.loadPDF(bytes)) {
            return document.getNumberOfPages() + " pages, title "
                    + document.getDocumentInformation().getTitle() + "\n" + new PDFTextStripper().getText(document);
        }
    }

    /** Numbers with a point, to six significant digits. */
    static String rounded(String text) {
        return NUMBER.matcher(text).replaceAll(number -> {
            BigDecimal value = new BigDecimal(number.group());
            return value.precision() <= DIGITS.getPrecision()
                    ? number.group()
                    : value.round(DIGITS).toString();
        });
    }

    /** JSON with a line for each value, its words and numbers as they were; lists of plain values stay on one line. */
    static String broken(String json) {
        StringBuilder out = new StringBuilder();
        int depth = 0;
        for (int i = 0; i < json.length(); i++) {
            char c = json.charAt(i);
            if (c == '"') {
                int end = i + 1;
                while (end < json.length() && json.charAt(end) != '"') {
                    end += json.charAt(end) == '\\' ? 2 : 1;
                }
                out.append(json, i, Math.min(json.length(), end + 1));
                i = end;
            } else if (c == '[' && plainList(json, i) > 0) {
                int end = plainList(json, i);
                out.append(json, i, end);
                i = end - 1;
            } else if (c == '{' || c == '[') {
                depth++;
                out.append(c).append('\n').append("  ".repeat(depth));
            } else if (c == '}' || c == ']') {
                depth--;
                out.append('\n').append("  ".repeat(Math.max(0, depth))).append(c);
            } else {
                out.append(c);
                if (c == ',') {
                    out.append('\n').append("  ".repeat(depth));
                }
            }
        }
        return out.append('\n').toString();
    }

    /** Where a list of plain values ends that begins here; 0 when it holds more than those. */
    private static int plainList(String json, int from) {
        boolean quoted = false;
        for (int i = from + 1; i < json.length(); i++) {
            char c = json.charAt(i);
            if (quoted && c == '\\') {
                i++;
            } else if (c == '"') {
                quoted = !quoted;
            } else if (!quoted && c == ']') {
                return i + 1;
            } else if (!quoted && (c == '[' || c == '{')) {
                return 0;
            }
        }
        return 0;
    }

    /** What differs from the stored outputs, a line for each. */
    List<String> differences() throws IOException {
        Map<String, String> before = stored();
        Map<String, String> now = now();
        List<String> out = new ArrayList<>();
        for (String name : names(before, now)) {
            String old = before.get(name);
            String fresh = now.get(name);
            if (old == null) {
                out.add(part + "/" + name + " is new");
            } else if (fresh == null) {
                out.add(part + "/" + name + " is gone");
            } else if (!old.equals(fresh)) {
                out.add(part + "/" + name + " differs" + where(name, old, fresh));
            }
        }
        return out;
    }

    private String where(String name, String old, String fresh) {
        if (digests.containsKey(name)) {
            return " (" + old + " is now " + fresh + "): compare "
                    + ACTUAL.resolve(part).resolve(name) + " with the one that the tree before writes";
        }
        List<String> a = old.lines().toList();
        List<String> b = fresh.lines().toList();
        int i = 0;
        while (i < Math.min(a.size(), b.size()) && a.get(i).equals(b.get(i))) {
            i++;
        }
        return " in line " + (i + 1) + ":\n    stored: " + line(a, i) + "\n    now:    " + line(b, i);
    }

    private static String line(List<String> lines, int i) {
        String line = i < lines.size() ? lines.get(i) : "(end)";
        return line.length() <= SHOWN ? line : line.substring(0, SHOWN) + "…";
    }

    /** Puts these outputs in the place of the stored ones; returns what that changed. */
    List<String> record() throws IOException {
        List<String> changes = differences();
        Path folder = STORED.resolve(part);
        emptied(folder);
        for (Map.Entry<String, String> text : texts.entrySet()) {
            write(folder.resolve(text.getKey()), text.getValue().getBytes(StandardCharsets.UTF_8));
        }
        StringBuilder lines = new StringBuilder();
        digests.forEach(
                (name, digest) -> lines.append(name).append(": ").append(digest).append('\n'));
        if (!digests.isEmpty()) {
            write(folder.resolve(DIGESTS), lines.toString().getBytes(StandardCharsets.UTF_8));
        }
        return changes;
    }

    private Map<String, String> now() {
        Map<String, String> out = new TreeMap<>(texts);
        out.putAll(digests);
        return out;
    }

    private Map<String, String> stored() throws IOException {
        Map<String, String> out = new TreeMap<>();
        Path folder = STORED.resolve(part);
        for (Path file : Files.isDirectory(folder) ? files(folder) : List.<Path>of()) {
            String name = slashed(folder, file);
            if (name.equals(DIGESTS)) {
                for (String line : Files.readAllLines(file)) {
                    int colon = line.indexOf(": ");
                    out.put(line.substring(0, colon), line.substring(colon + 2));
                }
            } else {
                out.put(name, Files.readString(file));
            }
        }
        return out;
    }

    private static TreeSet<String> names(Map<String, String> before, Map<String, String> now) {
        TreeSet<String> out = new TreeSet<>(before.keySet());
        out.addAll(now.keySet());
        return out;
    }

    /** How many outputs there are. */
    int size() {
        return texts.size() + digests.size();
    }

    /** A folder with nothing in it. */
    static Path emptied(Path folder) throws IOException {
        if (Files.exists(folder)) {
            try (Stream<Path> all = Files.walk(folder)) {
                for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
                    Files.delete(path);
                }
            }
        }
        Files.createDirectories(folder);
        return folder;
    }

    private static List<Path> files(Path folder) throws IOException {
        try (Stream<Path> all = Files.walk(folder)) {
            return all.filter(Files::isRegularFile).sorted().toList();
        }
    }

    private static String slashed(Path folder, Path file) {
        return folder.relativize(file).toString().replace('\\', '/');
    }

    private static void write(Path file, byte[] bytes) {
        try {
            Files.createDirectories(file.getParent());
            Files.write(file, bytes);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static String sha256(String text) {
        return HexFormat.of().formatHex(digest(text.getBytes(StandardCharsets.UTF_8)));
    }

    private static byte[] digest(byte[] bytes) {
        try {
            return MessageDigest.getInstance("SHA-256").digest(bytes);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
