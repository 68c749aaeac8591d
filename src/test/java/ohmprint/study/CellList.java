package ohmprint.study;

import java.util.Locale;

/** Every cell of the study as a line of a CSV file. */
final class CellList {
    private CellList() {}

    static String csv(Study study) {
        StringBuilder out =
                new StringBuilder("circuit,loads,bench,drift_db,snr_db,route,bins,fit,sessions,coverage_magnitude,"
                        + "coverage_phase,error_percent,error_over_bound,error_over_bound_alone,error_over_prediction,bias_percent,"
                        + "stated_over_error,rejected\n");
        for (CellResult r : study.cells()) {
            out.append(String.format(
                    Locale.ROOT,
                    "\"%s\",%s,%s,%.4f,%.0f,%s,%s,%s,%d,%.4f,%.4f,%.4f,%.4f,%.4f,%s,%.4f,%.4f,%d%n",
                    r.cell().circuit().words(),
                    r.cell().loads().words(),
                    r.cell().tolerance() == Tolerance.MEASURED ? "measured" : "bought",
                    r.cell().driftDb(),
                    r.cell().snrDb(),
                    r.cell().route().words(),
                    r.cell().layout().name().toLowerCase(Locale.ROOT),
                    r.fit().words(),
                    r.cell().sessions(),
                    r.magnitudeCoverage(),
                    r.phaseCoverage(),
                    r.errorPercent(),
                    r.efficiency(),
                    r.alone(),
                    Double.isNaN(r.overPredicted()) ? "" : String.format(Locale.ROOT, "%.4f", r.overPredicted()),
                    r.biasPercent(),
                    r.statedOverError(),
                    r.rejected()));
        }
        return out.toString();
    }
}
