package ohmprint.app.library;

import java.util.List;
import ohmprint.library.KeptSpecification;
import ohmprint.library.Link;
import org.jspecify.annotations.Nullable;

/**
 * What {@code bundle.json} says of a bundle.
 *
 * @param measurements the measurements, in order
 * @param links links between them
 * @param specifications the specifications; their texts are in files {@code specifications/1.yaml} and so on
 */
record BundleContent(List<Item> measurements, List<Link> links, List<KeptSpecification> specifications) {
    BundleContent {
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
