package ohmprint.app.library;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.curve.Measurement;
import ohmprint.exchange.CurveJson;
import ohmprint.exchange.ExchangeException;
import ohmprint.library.Incoming;
import ohmprint.library.KeptSpecification;
import ohmprint.library.NewMeasurement;
import ohmprint.library.TakenIn;

/** Takes in what another workshop handed out. */
public final class ImportBundle {
    private ImportBundle() {}

    /**
     * Takes in a bundle, all or nothing; what is here already stays as it is, so that doing it again changes nothing.
     *
     * @throws BadInputException if the bundle is damaged or holds what no library exports
     */
    public static Outcome run(LibraryPlace place, Path file) throws BadInputException, IOException {
        if (!Files.isRegularFile(file)) {
            throw new BadInputException(file + " is no file; name the bundle that another library exported");
        }
        try (BundleFile bundle = BundleFile.open(file)) {
            BundleContent content = BundleJson.read(bundle.text(BundleFile.CONTENT), file.toString());
            for (BundleContent.Item item : content.measurements()) {
                measurement(bundle, item);
            }
            List<KeptSpecification> specifications = specifications(bundle, content);
            Iterable<NewMeasurement> measurements = () -> reading(bundle, content);
            return place.made(library -> {
                TakenIn taken = library.takeIn(new Incoming(measurements, content.links(), specifications));
                return new Outcome(
                        taken.added(), taken.known(), taken.links(), taken.specifications(), taken.conflicts());
            });
        }
    }

    private static NewMeasurement measurement(BundleFile bundle, BundleContent.Item item)
            throws BadInputException, IOException {
        String name = item.id().matches("[0-9a-f]{12}") ? item.file("curve.json") : "a measurement";
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

    private static List<KeptSpecification> specifications(BundleFile bundle, BundleContent content)
            throws BadInputException, IOException {
        List<KeptSpecification> specifications = new ArrayList<>();
        for (int i = 0; i < content.specifications().size(); i++) {
            KeptSpecification s = content.specifications().get(i);
            String yaml = bundle.text(BundleContent.specificationFile(i));
            if (!Sha256.of(yaml).equals(s.sha256())) {
                throw bundle.damaged(BundleContent.specificationFile(i) + " is not the specification that "
                        + BundleFile.CONTENT + " names");
            }
            specifications.add(new KeptSpecification(s.name(), 1, s.sha256(), yaml, s.by(), s.at()));
        }
        return specifications;
    }

    private static Iterator<NewMeasurement> reading(BundleFile bundle, BundleContent content) {
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

    /**
     * What became of a bundle.
     *
     * @param added identifiers of measurements that are new
     * @param known how many measurements were here already
     * @param links how many links are new
     * @param specifications names of specifications that are new
     * @param conflicts what was not taken in, and why
     */
    public record Outcome(
            List<String> added, int known, int links, List<String> specifications, List<String> conflicts) {
        /** Copies the lists. */
        public Outcome {
            added = List.copyOf(added);
            specifications = List.copyOf(specifications);
            conflicts = List.copyOf(conflicts);
        }
    }
}
