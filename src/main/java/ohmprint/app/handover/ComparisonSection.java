package ohmprint.app.handover;

import java.util.ArrayList;
import java.util.List;
import ohmprint.app.library.Comparison;
import ohmprint.app.library.Comparison.Difference;
import ohmprint.curve.Rounded;
import ohmprint.report.ChartTheme;
import ohmprint.report.Sheet.Block;
import ohmprint.report.Sheet.Drawing;
import ohmprint.report.Sheet.Section;
import ohmprint.report.Sheet.Table;
import ohmprint.report.Sheet.Words;

/** Before and after: where the curve differs from an earlier one by more than the uncertainty of both. */
final class ComparisonSection {
    private ComparisonSection() {}

    static Section of(Comparison comparison) {
        Difference difference = comparison.differences().get(0);
        List<Block> blocks = new ArrayList<>();
        if (difference.different() != null) {
            blocks.add(new Words("Warning. " + difference.different()));
        }
        if (difference.ranges().isEmpty()) {
            blocks.add(new Words("No band differs by more than the uncertainty of the two curves explains."));
        } else {
            blocks.add(new Table(
                    "Where it differs from the earlier curve",
                    List.of("From", "to", "Largest difference of |Z|", "95 % interval", "at"),
                    difference.ranges().stream().map(ComparisonSection::row).toList()));
        }
        blocks.add(new Drawing(
                comparison.chart(ChartTheme.LIGHT).forPage(),
                comparison.chart(ChartTheme.DARK).forPage(),
                "Chart of both curves over frequency with their 95 % bands, and below it the difference in percent.",
                difference.assumed()));
        return new Section("Before and after", blocks);
    }

    private static List<String> row(Difference.Range range) {
        Difference.Band largest = range.largest();
        return List.of(
                Rounded.frequency(range.fromHz()),
                Rounded.frequency(range.toHz()),
                signed(largest.percent()) + " %",
                signed(largest.lowPercent()) + " to " + signed(largest.highPercent()) + " %",
                Rounded.frequency(largest.hz()));
    }

    private static String signed(double percent) {
        return (percent > 0 ? "+" : percent < 0 ? "−" : "") + Rounded.digits(Math.abs(percent), 3);
    }
}
