package ohmprint.app.measure;

import ohmprint.app.BadInputException;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.estimate.LoadedTakes;
import ohmprint.report.ChartTheme;
import ohmprint.report.LineChart;

/** The straight lines {@code 1/D} against load admittance of a measured session, for drawing any band of it. */
public final class Lines {
    private final String label;
    private final ImpedanceCurve curve;
    private final Observation seen;
    private final LoadedTakes all;
    private final boolean[] leftOut;

    Lines(String label, ImpedanceCurve curve, Observation seen, LoadedTakes all, boolean[] leftOut) {
        this.label = label;
        this.curve = curve;
        this.seen = seen;
        this.all = all;
        this.leftOut = leftOut.clone();
    }

    /**
     * Draws the band nearest to a frequency.
     *
     * @param hz the frequency in hertz
     * @param dark whether it is for a dim room
     * @return an SVG picture
     * @throws BadInputException if no band within half an octave or so has a complex value
     */
    public String svg(double hz, boolean dark) throws BadInputException {
        LineChart.Data data = LinePicture.of(label, curve, seen, all, leftOut, hz);
        if (data == null) {
            throw new BadInputException(
                    "no band near " + Math.round(hz) + " Hz has a value with its phase; choose another" + " frequency");
        }
        return LineChart.ofBand(data.bands().get(0), dark ? ChartTheme.DARK : ChartTheme.LIGHT)
                .svg();
    }
}
