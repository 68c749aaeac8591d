package ohmprint.app.workspace;

import java.util.List;
import ohmprint.library.ImportResult;

/**
 * What became of a bundle of another workshop.
 *
 * @param added identifiers of measurements that are new
 * @param known how many measurements were here already
 * @param links how many links are new
 * @param specifications names of specifications that are new
 * @param conflicts what was not taken in, and why
 */
public record BundleView(
        List<String> added, int known, int links, List<String> specifications, List<String> conflicts) {
    static BundleView of(ImportResult o) {
        return new BundleView(o.added(), o.known(), o.links(), o.specifications(), o.conflicts());
    }
}
