package ohmprint.app.workspace;

import java.util.List;
import ohmprint.curve.Finding;
import org.jspecify.annotations.Nullable;

/**
 * A finding in plain values.
 *
 * @param code its kind, as in files
 * @param take file of the take concerned, or null
 * @param message plain words
 */
public record FindingView(String code, @Nullable String take, String message) {
    static FindingView of(Finding finding) {
        return new FindingView(finding.code().word(), finding.take(), finding.message());
    }

    static List<FindingView> of(List<Finding> findings) {
        return findings.stream().map(FindingView::of).toList();
    }
}
