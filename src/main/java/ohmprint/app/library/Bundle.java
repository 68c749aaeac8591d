package ohmprint.app.library;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.Iterator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.app.library.BundleFile.Content;
import ohmprint.exchange.CurveFormat;
import ohmprint.exchange.CurveJson;
import ohmprint.exchange.ExchangeException;
import ohmprint.files.Sha256;
import ohmprint.impedance.Measurement;
import ohmprint.library.CurveLibrary;
import ohmprint.library.Entry;
import ohmprint.library.Filter;
import ohmprint.library.ImportResult;
import ohmprint.library.KeptSpecification;
import ohmprint.library.LibraryException;
import ohmprint.library.Link;
import ohmprint.library.NewMeasurement;

/** Measurements that go from one workshop to another, with their links and specifications. */
public final class Bundle {
    private Bundle() {}

    /** What measurements are written as, for a sentence. */
    public static String contents() {
        return CurveFormat.titles();
    }

    /**
     * Writes a bundle, whole or not at all. The same measurements and links give the same bytes.
     *
     * @param ids identifiers; when empty everything that passes the filter
     * @param filter which measurements
     * @param specifications whether the specifications go along
     * @param file the new file
     * @return how many measurements it holds
     */
    public static int export(
            LibraryConnection place, List<String> ids, Filter filter, boolean specifications, Path file)
            throws BadInputException, IOException {
        return place.with(library -> {
            Set<String> chosen = new LinkedHashSet<>();
            for (String id : ids) {
                chosen.add(library.entry(LibraryReference.id(id)).id());
            }
            if (ids.isEmpty()) {
                chosen.addAll(library.ids(filter));
            }
            List<KeptSpecification> kept = specifications ? library.specifications() : List.of();
            if (chosen.isEmpty() && kept.isEmpty()) {
                throw new BadInputException("library " + library.location()
                        + " holds nothing that was asked for; ohmprint library list shows what it holds");
            }
            WholeFile.create(file, part -> write(library, chosen, kept, part));
            return chosen.size();
        });
    }

    private static void write(
            CurveLibrary library, Set<String> chosen, List<KeptSpecification> specifications, Path part)
            throws IOException, BadInputException {
        try (BundleFile.Writer bundle = new BundleFile.Writer(part)) {
            List<Content.Item> items = new ArrayList<>();
            for (String id : chosen) {
                Entry entry = library.entry(id);
                Content.Item item = new Content.Item(entry.id(), entry.sha256(), entry.operator(), entry.note());
                items.add(item);
                String document = library.document(entry);
                Measurement m = LibraryReference.read(entry, document).measurement();
                bundle.add(item.file(CurveFormat.JSON.file()), document);
                for (CurveFormat format : CurveFormat.values()) {
                    if (format != CurveFormat.JSON && format.canHold(m.curve())) {
                        bundle.add(item.file(format.file()), format.write(m));
                    }
                }
            }
            for (int i = 0; i < specifications.size(); i++) {
                bundle.add(Content.specificationFile(i), specifications.get(i).yaml());
            }
            Set<String> inside = new HashSet<>(chosen);
            List<Link> links = library.links().stream()
                    .filter(l -> inside.contains(l.from()) && inside.contains(l.to()))
                    .toList();
            bundle.finish(new Content(items, links, specifications));
        } catch (LibraryException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    /**
     * Takes in a bundle, all or nothing; what is here already stays as it is, so that doing it again changes nothing.
     *
     * @throws BadInputException if the bundle is damaged or holds what no library exports
     */
    public static ImportResult take(LibraryConnection place, Path file) throws BadInputException, IOException {
        if (!Files.isRegularFile(file)) {
            throw new BadInputException(file + " is no file; name the bundle that another library exported");
        }
        try (BundleFile bundle = BundleFile.open(file)) {
            Content content = bundle.content();
            for (Content.Item item : content.measurements()) {
                measurement(bundle, item);
            }
            List<KeptSpecification> specifications = specifications(bundle, content);
            Iterable<NewMeasurement> measurements = () -> reading(bundle, content);
            return place.made(library -> library.takeIn(measurements, content.links(), specifications));
        }
    }

    private static NewMeasurement measurement(BundleFile bundle, Content.Item item)
            throws BadInputException, IOException {
        String name = item.id().matches("[0-9a-f]{12}") ? item.file(CurveFormat.JSON.file()) : "a measurement";
        if (!bundle.has(name)) {
            throw bundle.damaged(name + " is missing");
        }
        String document = bundle.text(name);
        Measurement measurement;
        try {
            measurement = CurveJson.read(document, name);
        } catch (ExchangeException e) {
            throw bundle.damaged(String.valueOf(e.getMessage()));
        }
        NewMeasurement added = new NewMeasurement(document, measurement, item.operator(), item.note());
        if (!added.sha256().equals(item.sha256()) || !added.id().equals(item.id())) {
            throw bundle.damaged(name + " is not the measurement that " + BundleFile.CONTENT + " names");
        }
        return added;
    }

    private static List<KeptSpecification> specifications(BundleFile bundle, Content content)
            throws BadInputException, IOException {
        List<KeptSpecification> specifications = new ArrayList<>();
        for (int i = 0; i < content.specifications().size(); i++) {
            KeptSpecification s = content.specifications().get(i);
            String yaml = bundle.text(Content.specificationFile(i));
            if (!Sha256.of(yaml).equals(s.sha256())) {
                throw bundle.damaged(Content.specificationFile(i) + " is not the specification that "
                        + BundleFile.CONTENT + " names");
            }
            specifications.add(new KeptSpecification(s.name(), 1, s.sha256(), yaml, s.by(), s.at()));
        }
        return specifications;
    }

    private static Iterator<NewMeasurement> reading(BundleFile bundle, Content content) {
        return content.measurements().stream()
                .map(item -> {
                    try {
                        return measurement(bundle, item);
                    } catch (IOException e) {
                        throw new UncheckedIOException(e);
                    } catch (BadInputException e) {
                        throw new UncheckedIOException(new IOException(e.getMessage(), e));
                    }
                })
                .iterator();
    }
}
