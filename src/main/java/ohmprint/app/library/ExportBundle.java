package ohmprint.app.library;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.curve.Measurement;
import ohmprint.exchange.CurveCsv;
import ohmprint.exchange.Touchstone;
import ohmprint.library.CurveLibrary;
import ohmprint.library.Entry;
import ohmprint.library.KeptSpecification;
import ohmprint.library.LibraryException;
import ohmprint.library.Link;

/** Hands out measurements to another workshop. The same measurements and links give the same bytes. */
public final class ExportBundle {
    /** The earliest time that a zip file can state in every zone; the true times are in {@code bundle.json}. */
    private static final long NO_TIME = 315_619_200_000L;

    private ExportBundle() {}

    /**
     * Writes a bundle, whole or not at all.
     *
     * @param ids identifiers; when empty everything that the query means
     * @param query which measurements
     * @param specifications whether the specifications go along
     * @param file the new file
     * @return how many measurements it holds
     */
    public static int run(LibraryPlace place, List<String> ids, EntryQuery query, boolean specifications, Path file)
            throws BadInputException, IOException {
        return place.with(library -> {
            Set<String> chosen = new LinkedHashSet<>();
            for (String id : ids) {
                chosen.add(library.entry(ReadLibrary.withoutPrefix(id)).id());
            }
            if (ids.isEmpty()) {
                chosen.addAll(library.ids(query.filter()));
            }
            List<KeptSpecification> kept = specifications ? library.specifications() : List.of();
            if (chosen.isEmpty() && kept.isEmpty()) {
                throw new BadInputException("library " + library.location()
                        + " holds nothing that was asked for; ohmprint library list shows what it holds");
            }
            WholeFile.create(file, out -> write(library, chosen, kept, out));
            return chosen.size();
        });
    }

    private static void write(
            CurveLibrary library, Set<String> chosen, List<KeptSpecification> specifications, OutputStream out)
            throws IOException, BadInputException {
        try (ZipOutputStream zip = new ZipOutputStream(new BufferedOutputStream(out), StandardCharsets.UTF_8)) {
            Map<String, String> sums = new LinkedHashMap<>();
            List<BundleContent.Item> items = new ArrayList<>();
            for (String id : chosen) {
                Entry entry = library.entry(id);
                BundleContent.Item item =
                        new BundleContent.Item(entry.id(), entry.sha256(), entry.operator(), entry.note());
                items.add(item);
                Measurement m = LibraryReference.read(library, id).measurement();
                add(zip, sums, item.file("curve.json"), library.document(entry));
                add(zip, sums, item.file("curve.csv"), CurveCsv.write(m.curve()));
                if (Touchstone.canHold(m.curve())) {
                    add(zip, sums, item.file("curve.s1p"), Touchstone.write(m));
                }
            }
            for (int i = 0; i < specifications.size(); i++) {
                add(
                        zip,
                        sums,
                        BundleContent.specificationFile(i),
                        specifications.get(i).yaml());
            }
            Set<String> inside = new HashSet<>(chosen);
            List<Link> links = library.links().stream()
                    .filter(l -> inside.contains(l.from()) && inside.contains(l.to()))
                    .toList();
            add(zip, sums, BundleFile.CONTENT, BundleJson.write(new BundleContent(items, links, specifications)));
            StringBuilder lines = new StringBuilder();
            sums.forEach(
                    (name, sum) -> lines.append(sum).append("  ").append(name).append('\n'));
            add(zip, sums, BundleFile.SUMS, lines.toString());
        } catch (LibraryException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private static void add(ZipOutputStream zip, Map<String, String> sums, String name, String text)
            throws IOException {
        ZipEntry entry = new ZipEntry(name);
        entry.setTime(NO_TIME);
        zip.putNextEntry(entry);
        zip.write(text.getBytes(StandardCharsets.UTF_8));
        zip.closeEntry();
        sums.put(name, Sha256.of(text));
    }
}
