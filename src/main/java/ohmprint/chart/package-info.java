/**
 * Pictures of measurements: SVG text and PNG bytes.
 *
 * <p>{@link ohmprint.chart.ImpedanceChart} shows |Z| over frequency on logarithmic axes with the 95 % band shaded, the
 * phase beneath it in degrees, and beside both what there is to say in words: verdict, route, findings. A rejected band is
 * a gap that no line crosses; an interval is a bounded area without a line; limits beyond an axis (a lower limit below
 * zero included) end at the frame. Where the sign of the reactance is not determined the phase is left out and a note says
 * so. {@link ohmprint.chart.LineChart} shows, for a few bands, 1/D against load admittance: points that lie on a
 * straight line are takes that agree. {@link ohmprint.chart.LoadingChart} shows what loads take from a microphone: a line
 * for each, with its 95 % band and its name.
 * {@link ohmprint.chart.OverlayChart} lays curves over each other: lines differ in colour
 * and in dashes, and beneath them stands by how much each differs from the first, with a mark where that is significant;
 * or the curves are thin lines before the range that they span.
 *
 * <p>Pictures are 1200 × 760 units; a PNG has two pixels per unit. Ticks are 20 50 100 200 500 1k 2k 5k 10k 20k for
 * hertz and 1-2-5 for ohms. Colours are from the Okabe–Ito palette, in a light and a dark
 * {@link ohmprint.chart.ChartTheme}; nothing is told by colour alone. Text in an SVG stays text. The bundled DejaVu Sans
 * is used for measuring text and for PNG, so that pictures do not depend on the fonts of the machine. The same
 * measurement gives the same bytes.
 *
 * <p>Nothing here is written to a file or needs a display. This package is the only one that knows the chart library. The
 * first picture of a program loads its classes.
 *
 * <p>In use:
 *
 * <pre>{@code
 * String svg = ImpedanceChart.of(measurement, ChartTheme.LIGHT).svg();
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.chart;
