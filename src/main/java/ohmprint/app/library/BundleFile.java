package ohmprint.app.library;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.BufferedOutputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.security.MessageDigest;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;
import java.util.zip.ZipOutputStream;
import ohmprint.app.BadInputException;
import ohmprint.app.Version;
import ohmprint.exchange.CurveFormat;
import ohmprint.files.Sha256;
import ohmprint.impedance.Measurement;
import ohmprint.library.KeptSpecification;
import ohmprint.library.Link;
import org.jspecify.annotations.Nullable;

/**
 * The file of a bundle, written and read.
 *
 * <p>One that someone else made is read with suspicion: only names of the known form are taken, nothing is unpacked onto the
 * disk, nothing may unpack to more than a measurement can have, and every file has to match its checksum.
 */
final class BundleFile implements AutoCloseable {
    /** Name of the file of checksums. */
    private static final String SUMS = "SHA256SUMS";

    /** Name of the file that tells what is in the bundle. */
    static final String CONTENT = "bundle.json";

    private static final Pattern NAMES = Pattern.compile("SHA256SUMS|bundle\\.json" + "|measurements/[0-9a-f]{12}/("
            + names() + ")|specifications/[1-9][0-9]{0,5}\\.yaml");
    private static final Pattern LINE = Pattern.compile("([0-9a-f]{64})  (.+)");
    private static final int MOST_FILES = 1_000_000;
    private static final int MOST_BYTES_OF_A_FILE = Measurement.MOST_BYTES;
    private static final int MOST_BYTES_OF_A_LIST = 512 << 20;

    /** What a list may have beside its lines, in bytes, and what it may have for each file of the bundle. */
    private static final long LIST_BYTES = 1 << 20;

    private static final long LIST_BYTES_PER_FILE = 4096;

    /** Text of measurements becomes a quarter; a twentieth is a trick. */
    private static final long MOST_EXPANSION = 20;

    private static final String FORMAT = "ohmprint-bundle";
    private static final int VERSION = 1;
    private static final String NEXT = "; ask for the bundle once more";

    /** The earliest time that a zip file can state in every zone; the true times are in {@code bundle.json}. */
    private static final long NO_TIME = 315_619_200_000L;

    private final Path path;
    private final ZipFile zip;

    private static String names() {
        return Arrays.stream(CurveFormat.values())
                .map(format -> Pattern.quote(format.file()))
                .collect(Collectors.joining("|"));
    }

    private BundleFile(Path path, ZipFile zip) {
        this.path = path;
        this.zip = zip;
    }

    /**
     * What {@code bundle.json} says of a bundle.
     *
     * @param measurements the measurements, in order
     * @param links links between them
     * @param specifications the specifications; their texts are in files {@code specifications/1.yaml} and so on
     */
    record Content(List<Item> measurements, List<Link> links, List<KeptSpecification> specifications) {
        Content {
            measurements = List.copyOf(measurements);
            links = List.copyOf(links);
            specifications = List.copyOf(specifications);
        }

        /**
         * A measurement of the bundle.
         *
         * @param id its identifier
         * @param sha256 SHA-256 of its {@code curve.json}
         * @param operator who measured or handed it in
         * @param note free text, or null
         */
        record Item(
                String id,
                String sha256,
                String operator,
                @Nullable String note) {
            String file(String name) {
                return "measurements/" + id + "/" + name;
            }
        }

        /** The file of specification number i, counted from 0. */
        static String specificationFile(int i) {
            return "specifications/" + (i + 1) + ".yaml";
        }
    }

    /** Writes a bundle, file by file; what it contains and the checksums come last. The same files give the same bytes. */
    static final class Writer implements AutoCloseable {
        private final ZipOutputStream zip;
        private final Map<String, String> sums = new LinkedHashMap<>();

        Writer(Path fresh) throws IOException {
            OutputStream out = Files.newOutputStream(fresh, StandardOpenOption.CREATE_NEW);
            this.zip = new ZipOutputStream(new BufferedOutputStream(out), StandardCharsets.UTF_8);
        }

        void add(String name, String text) throws IOException {
            ZipEntry entry = new ZipEntry(name);
            entry.setTime(NO_TIME);
            zip.putNextEntry(entry);
            zip.write(text.getBytes(StandardCharsets.UTF_8));
            zip.closeEntry();
            sums.put(name, Sha256.of(text));
        }

        void finish(Content content) throws IOException {
            add(CONTENT, json(content));
            StringBuilder lines = new StringBuilder();
            sums.forEach(
                    (name, sum) -> lines.append(sum).append("  ").append(name).append('\n'));
            add(SUMS, lines.toString());
        }

        @Override
        public void close() throws IOException {
            zip.close();
        }
    }

    /** Opens a bundle and checks every file of it. */
    static BundleFile open(Path path) throws BadInputException, IOException {
        ZipFile zip;
        try {
            zip = new ZipFile(path.toFile(), StandardCharsets.UTF_8);
        } catch (ZipException e) {
            throw new BadInputException(
                    path + " is no bundle or damaged (" + e.getMessage() + "); ask for it once more", e);
        }
        BundleFile bundle = new BundleFile(path, zip);
        try {
            bundle.check();
            return bundle;
        } catch (IOException | BadInputException | RuntimeException e) {
            zip.close();
            throw e;
        }
    }

    private void check() throws BadInputException, IOException {
        if (zip.size() > MOST_FILES) {
            throw refused("holds " + zip.size() + " files");
        }
        Map<String, String> found = new HashMap<>();
        long unpacked = 0;
        long allowed =
                Math.max(MOST_BYTES_OF_A_FILE, MOST_EXPANSION * path.toFile().length());
        for (var entries = zip.entries(); entries.hasMoreElements(); ) {
            ZipEntry entry = entries.nextElement();
            String name = entry.getName();
            if (!NAMES.matcher(name).matches()) {
                throw refused("holds a file that does not belong into one: " + shown(name));
            }
            if (found.containsKey(name)) {
                throw refused("holds " + name + " twice");
            }
            Measured measured = measure(entry, allowed - unpacked);
            unpacked += measured.bytes();
            found.put(name, measured.sha256());
        }
        Map<String, String> wanted = sums();
        found.remove(SUMS);
        if (!wanted.equals(found)) {
            TreeSet<String> odd = new TreeSet<>(wanted.keySet());
            odd.addAll(found.keySet());
            odd.removeIf(name -> wanted.getOrDefault(name, "-").equals(found.get(name)));
            String first = odd.first();
            throw damaged(
                    first + (!found.containsKey(first) ? " is missing" : " does not match its checksum, or has none"));
        }
    }

    private record Measured(String sha256, long bytes) {}

    private Measured measure(ZipEntry entry, long allowed) throws BadInputException, IOException {
        long most = Math.min(allowed, limit(entry.getName()));
        try (InputStream in = zip.getInputStream(entry)) {
            MessageDigest digest = Sha256.begun();
            byte[] buffer = new byte[1 << 16];
            long bytes = 0;
            for (int n; (n = in.read(buffer)) > 0; ) {
                bytes += n;
                if (bytes > most) {
                    throw refused("unpacks to far more than measurements have: " + entry.getName() + " to over " + most
                            + " bytes, from " + path.toFile().length() + " bytes in all");
                }
                digest.update(buffer, 0, n);
            }
            return new Measured(HexFormat.of().formatHex(digest.digest()), bytes);
        } catch (ZipException | EOFException e) {
            throw damaged(entry.getName() + " cannot be unpacked");
        }
    }

    private Map<String, String> sums() throws BadInputException, IOException {
        Map<String, String> sums = new HashMap<>();
        for (String line : text(SUMS).lines().toList()) {
            var parts = LINE.matcher(line);
            if (!parts.matches()) {
                throw damaged(SUMS + " cannot be understood");
            }
            sums.put(parts.group(2), parts.group(1));
        }
        return sums;
    }

    /** True when the bundle has a file of this name. */
    boolean has(String name) {
        return zip.getEntry(name) != null;
    }

    /** The text of a file. */
    String text(String name) throws BadInputException, IOException {
        ZipEntry entry = zip.getEntry(name);
        if (entry == null) {
            throw damaged(name + " is missing");
        }
        try (InputStream in = zip.getInputStream(entry)) {
            return new String(in.readNBytes((int) limit(name)), StandardCharsets.UTF_8);
        }
    }

    /** An objection: the bundle is not what it should be. */
    BadInputException damaged(String what) {
        return new BadInputException(
                "bundle " + path + " is damaged: " + what + "; nothing was taken in, ask for it once more");
    }

    private BadInputException refused(String what) {
        return new BadInputException(
                "bundle " + path + " " + what + "; nothing was taken in, because no library exports that");
    }

    private long limit(String name) {
        return name.equals(SUMS) || name.equals(CONTENT)
                ? Math.min(MOST_BYTES_OF_A_LIST, LIST_BYTES + LIST_BYTES_PER_FILE * zip.size())
                : MOST_BYTES_OF_A_FILE;
    }

    private static String shown(String name) {
        return name.length() > 80 ? name.substring(0, 80) + "..." : name;
    }

    @Override
    public void close() throws IOException {
        zip.close();
    }

    private static String json(Content content) throws IOException {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.useDefaultPrettyPrinter();
            json.writeStartObject();
            json.writeStringField("format", FORMAT);
            json.writeNumberField("version", VERSION);
            json.writeStringField("program_version", Version.current());
            json.writeArrayFieldStart("measurements");
            for (Content.Item item : content.measurements()) {
                json.writeStartObject();
                json.writeStringField("id", item.id());
                json.writeStringField("sha256", item.sha256());
                json.writeStringField("operator", item.operator());
                json.writeStringField("note", item.note());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeArrayFieldStart("links");
            for (Link link : content.links()) {
                json.writeStartObject();
                json.writeStringField("kind", link.kind().word());
                json.writeStringField("from", link.from());
                json.writeStringField("to", link.to());
                json.writeStringField("words", link.words());
                json.writeStringField("by", link.by());
                json.writeStringField("at", link.at().toString());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeArrayFieldStart("specifications");
            for (KeptSpecification s : content.specifications()) {
                json.writeStartObject();
                json.writeStringField("name", s.name());
                json.writeStringField("sha256", s.sha256());
                json.writeStringField("by", s.by());
                json.writeStringField("at", s.at().toString());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        }
        return text.append('\n').toString();
    }

    /** What {@code bundle.json} says; the texts of specifications are empty until their files are read. */
    Content content() throws BadInputException, IOException {
        String name = path.toString();
        String text = text(CONTENT);
        try {
            JsonNode top = JsonMapper.builder()
                    .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
                    .build()
                    .readTree(text);
            if (!FORMAT.equals(top.path("format").textValue())) {
                throw new BadInputException(
                        name + " is no bundle of this program: its bundle.json is another's" + NEXT);
            }
            if (top.path("version").intValue() != VERSION) {
                throw new BadInputException(name + " is a bundle of version " + top.path("version")
                        + ", this program reads version " + VERSION + "; use a newer program");
            }
            return new Content(items(top), links(top), specifications(top));
        } catch (JsonProcessingException | DateTimeException | IllegalArgumentException e) {
            throw new BadInputException(name + " is damaged: its bundle.json cannot be understood" + NEXT, e);
        }
    }

    private static List<Content.Item> items(JsonNode top) {
        List<Content.Item> items = new ArrayList<>();
        for (JsonNode n : list(top, "measurements")) {
            JsonNode note = n.path("note");
            items.add(new Content.Item(
                    text(n, "id"), text(n, "sha256"), text(n, "operator"), note.isTextual() ? note.textValue() : null));
        }
        return items;
    }

    private static List<Link> links(JsonNode top) {
        List<Link> links = new ArrayList<>();
        for (JsonNode n : list(top, "links")) {
            links.add(new Link(
                    Link.Kind.valueOf(text(n, "kind").toUpperCase(Locale.ROOT)),
                    text(n, "from"),
                    text(n, "to"),
                    text(n, "words"),
                    text(n, "by"),
                    Instant.parse(text(n, "at"))));
        }
        return links;
    }

    private static List<KeptSpecification> specifications(JsonNode top) {
        List<KeptSpecification> specifications = new ArrayList<>();
        for (JsonNode n : list(top, "specifications")) {
            specifications.add(new KeptSpecification(
                    text(n, "name"), 1, text(n, "sha256"), "", text(n, "by"), Instant.parse(text(n, "at"))));
        }
        return specifications;
    }

    private static JsonNode list(JsonNode top, String key) {
        JsonNode list = top.path(key);
        if (!list.isArray()) {
            throw new IllegalArgumentException(key + " is no list");
        }
        return list;
    }

    private static String text(JsonNode node, String key) {
        JsonNode value = node.path(key);
        if (!value.isTextual()) {
            throw new IllegalArgumentException(key + " is no text");
        }
        return value.textValue();
    }
}
