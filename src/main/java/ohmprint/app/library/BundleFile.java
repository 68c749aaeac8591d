package ohmprint.app.library;

import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.Map;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;
import ohmprint.app.BadInputException;
import ohmprint.curve.Measurement;

/**
 * The files of a bundle that someone else made: read with suspicion. Only names of the known form are taken, nothing is
 * unpacked onto the disk, nothing may unpack to more than a measurement can have, and every file has to match its checksum.
 */
final class BundleFile implements AutoCloseable {
    /** Name of the file of checksums. */
    static final String SUMS = "SHA256SUMS";

    /** Name of the file that tells what is in the bundle. */
    static final String CONTENT = "bundle.json";

    private static final Pattern NAMES = Pattern.compile("SHA256SUMS|bundle\\.json"
            + "|measurements/[0-9a-f]{12}/curve\\.(json|csv|s1p)|specifications/[1-9][0-9]{0,5}\\.yaml");
    private static final Pattern LINE = Pattern.compile("([0-9a-f]{64})  (.+)");
    private static final int MOST_FILES = 1_000_000;
    private static final int MOST_BYTES_OF_A_FILE = Measurement.MOST_BYTES;
    private static final int MOST_BYTES_OF_A_LIST = 512 << 20;

    /** What a list may have beside its lines, in bytes, and what it may have for each file of the bundle. */
    private static final long LIST_BYTES = 1 << 20;

    private static final long LIST_BYTES_PER_FILE = 4096;

    /** Text of measurements becomes a quarter; a twentieth is a trick. */
    private static final long MOST_EXPANSION = 20;

    private final Path path;
    private final ZipFile zip;

    private BundleFile(Path path, ZipFile zip) {
        this.path = path;
        this.zip = zip;
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
            MessageDigest digest = MessageDigest.getInstance("SHA-256");
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
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
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

    Path path() {
        return path;
    }

    @Override
    public void close() throws IOException {
        zip.close();
    }
}
