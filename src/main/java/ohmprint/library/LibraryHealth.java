package ohmprint.library;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import ohmprint.files.Sha256;
import ohmprint.impedance.Measurement;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/**
 * What a look over a library found.
 *
 * @param library the library, without secrets
 * @param measurements how many measurements it holds
 * @param problems what is wrong, in words; empty when nothing is
 */
public record LibraryHealth(String library, int measurements, List<String> problems) {
    private static final int MOST_PROBLEMS = 100;

    /** Understands the text of a measurement, which the library itself does not. */
    @FunctionalInterface
    public interface DocumentReader {
        /**
         * What a text says.
         *
         * @param document the text
         * @param name what to call it in messages
         * @throws Exception if it cannot be understood; the message says why
         */
        Measurement read(String document, String name) throws Exception;
    }

    /** Copies the list. */
    public LibraryHealth {
        problems = List.copyOf(problems);
    }

    /**
     * Looks for damage, of which the first hundred problems are told: in the file, in each document, and between documents and
     * columns.
     *
     * @param library what it is called
     * @param file whether it is a file
     */
    static LibraryHealth of(Handle handle, String library, boolean file, DocumentReader reader) {
        Check check = new Check(handle, reader);
        int measurements = check.run(file);
        return new LibraryHealth(library, measurements, check.problems);
    }

    private static final class Check {
        private final Handle handle;
        private final DocumentReader reader;
        private final List<String> problems = new ArrayList<>();

        Check(Handle handle, DocumentReader reader) {
            this.handle = handle;
            this.reader = reader;
        }

        int run(boolean file) {
            if (file) {
                for (String line : handle.createQuery("PRAGMA integrity_check")
                        .mapTo(String.class)
                        .list()) {
                    if (!line.equals("ok")) {
                        problems.add("the file is damaged: " + line);
                    }
                }
                handle.createQuery("PRAGMA foreign_key_check")
                        .mapToMap()
                        .forEach(row -> problems.add("a row of " + row.get("table") + " belongs to nothing"));
            }
            List<String> ids = handle.createQuery("SELECT id FROM measurement ORDER BY id")
                    .mapTo(String.class)
                    .list();
            for (String id : ids) {
                if (problems.size() >= MOST_PROBLEMS) {
                    problems.add("and perhaps more: the rest was not looked at");
                    break;
                }
                try {
                    entry(id);
                } catch (Exception e) {
                    problems.add(id + ": it cannot be read: " + e.getMessage());
                }
            }
            specifications();
            return ids.size();
        }

        private void entry(String id) throws Exception {
            Map<String, Object> row = one("SELECT * FROM measurement WHERE id = :id", id);
            byte[] gzip = bytes("SELECT gzip FROM curve_document WHERE measurement = :id", id);
            if (gzip == null) {
                problems.add(id + ": its document is missing");
                return;
            }
            String document;
            try {
                document = Gzip.unpack(gzip);
            } catch (IOException e) {
                problems.add(id + ": its document cannot be unpacked: " + e.getMessage());
                return;
            }
            if (!Sha256.of(document).equals(row.get("sha256"))) {
                problems.add(id + ": its document is not what was added: the SHA-256 differs");
                return;
            }
            Measurement measurement = reader.read(document, id);
            NewMeasurement again = new NewMeasurement(
                    document, measurement, String.valueOf(row.get("operator")), (String) row.get("note"));
            again.row().forEach((column, wanted) -> {
                if (!same(wanted, row.get(column))) {
                    problems.add(id + ": " + column + " is not what the document says");
                }
            });
            byte[] shape = bytes("SELECT points FROM curve_shape WHERE measurement = :id", id);
            if (!CurveSignature.isOf(measurement.curve(), shape)) {
                problems.add(id + ": its shape is not that of the document");
            }
            List<String> takes = handle.createQuery("SELECT sha256 FROM take WHERE measurement = :id ORDER BY place")
                    .bind("id", id)
                    .mapTo(String.class)
                    .list();
            List<String> wanted = measurement.provenance().takes().stream()
                    .map(t -> t.file().sha256())
                    .toList();
            if (!takes.equals(wanted)) {
                problems.add(id + ": its takes are not those of the document");
            }
        }

        private void specifications() {
            for (KeptSpecification s : KeptSpecification.newest(handle)) {
                if (!Sha256.of(s.yaml()).equals(s.sha256())) {
                    problems.add("specification " + s.name() + ": its text is not what was kept: the SHA-256 differs");
                }
            }
        }

        private static boolean same(@Nullable Object wanted, @Nullable Object found) {
            if (wanted instanceof Number w && found instanceof Number f) {
                return w.doubleValue() == f.doubleValue();
            }
            return Objects.equals(wanted, found);
        }

        private Map<String, Object> one(String sql, String id) {
            return handle.createQuery(sql).bind("id", id).mapToMap().one();
        }

        private byte @Nullable [] bytes(String sql, String id) {
            return handle.createQuery(sql)
                    .bind("id", id)
                    .map((r, context) -> r.getBytes(1))
                    .findOne()
                    .orElse(null);
        }
    }
}
