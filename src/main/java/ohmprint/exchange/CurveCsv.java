package ohmprint.exchange;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Permitted;
import ohmprint.text.Numbers;

/** A curve as a table of comma-separated values; columns as described for the package. */
public final class CurveCsv {
    /** The first line of every table. */
    public static final String HEADER = "frequency_hz,magnitude_ohm,phase_deg,resistance_ohm,reactance_ohm,"
            + "magnitude_u95_ohm,phase_u95_deg,snr_db,status,magnitude_low_ohm,magnitude_high_ohm";

    private static final String[] COLUMNS = HEADER.split(",");
    private static final int FREQUENCY = 0;
    private static final int MAGNITUDE = 1;
    private static final int PHASE = 2;
    private static final int RESISTANCE = 3;
    private static final int REACTANCE = 4;
    private static final int MAGNITUDE_U95 = 5;
    private static final int PHASE_U95 = 6;
    private static final int SNR = 7;
    private static final int STATUS = 8;
    private static final int LOW = 9;
    private static final int HIGH = 10;

    private CurveCsv() {}

    /** The whole table, one row per band in ascending frequency, each line ended by LF. */
    public static String write(ImpedanceCurve curve) {
        StringBuilder out = new StringBuilder(HEADER).append('\n');
        for (BandValue v : curve.values()) {
            String[] row = {
                Numbers.inFile(v.frequencyHz()),
                Numbers.inFile(v.magnitudeOhm()),
                Numbers.inFile(v.phaseDeg()),
                Numbers.inFile(v.resistanceOhm()),
                Numbers.inFile(v.reactanceOhm()),
                Numbers.inFile(v.magnitudeU95Ohm()),
                Numbers.inFile(v.phaseU95Deg()),
                Numbers.inFile(v.snrDb()),
                v.status().word(),
                Numbers.inFile(v.magnitudeLowOhm()),
                Numbers.inFile(v.magnitudeHighOhm())
            };
            out.append(String.join(",", row)).append('\n');
        }
        return out.toString();
    }

    /**
     * Reads a table back. Covariance and budget are not part of it and come back as null; the grid is found from the
     * frequencies (a single row is taken as the coarsest band with that midband).
     *
     * @param text the whole file
     * @param name file name for messages
     * @param parallelWithInput what the ohms are, which a table does not say: true for source in parallel with input
     * @throws ExchangeException if anything is not as described for the package; the message holds file and line
     */
    public static ImpedanceCurve read(String text, String name, boolean parallelWithInput) throws ExchangeException {
        List<String> lines = text.lines().toList();
        if (lines.isEmpty() || !lines.get(0).equals(HEADER)) {
            throw new ExchangeException(name + ", line 1: the header is not \"" + HEADER
                    + "\"; use a curve.csv as written" + " by this program, or give your table this header");
        }
        if (lines.size() < 2) {
            throw new ExchangeException(name + ": no row follows the header; give at least one band");
        }
        List<BandValue> values = new ArrayList<>();
        for (int i = 1; i < lines.size(); i++) {
            values.add(new Row(lines.get(i), name + ", line " + (i + 1)).value());
        }
        double[] midbands = values.stream().mapToDouble(BandValue::frequencyHz).toArray();
        return new ImpedanceCurve(Grid.of(midbands, name), values, parallelWithInput);
    }

    /** One row being read. */
    private record Row(String line, String place) {
        BandValue value() throws ExchangeException {
            String[] cells = line.split(",", -1);
            if (cells.length != COLUMNS.length) {
                throw new ExchangeException(place + ": " + cells.length + " columns instead of " + COLUMNS.length
                        + "; separate by commas and write numbers with a decimal point");
            }
            BandStatus status = Arrays.stream(BandStatus.values())
                    .filter(s -> s.word().equals(cells[STATUS]))
                    .findFirst()
                    .orElseThrow(() -> ExchangeException.unknown(
                            place + ", status",
                            cells[STATUS],
                            Arrays.stream(BandStatus.values()).map(BandStatus::word)));
            double frequency = number(cells, FREQUENCY);
            if (!(frequency > 0 && Permitted.HERTZ.holds(frequency))) {
                throw new ExchangeException(place + ", frequency_hz: \"" + cells[FREQUENCY]
                        + "\" is no frequency; give a number from " + Permitted.HERTZ.words());
            }
            double magnitude = number(cells, MAGNITUDE);
            if (!Double.isNaN(magnitude) && !(magnitude > 0 && Permitted.CURVE_OHM.holds(magnitude))) {
                throw new ExchangeException(place + ", magnitude_ohm: \"" + cells[MAGNITUDE]
                        + "\" is no magnitude; give a number from " + Permitted.CURVE_OHM.words());
            }
            require(cells, status);
            return new BandValue(
                    frequency,
                    status,
                    number(cells, RESISTANCE),
                    number(cells, REACTANCE),
                    magnitude,
                    Math.toRadians(number(cells, PHASE)),
                    number(cells, MAGNITUDE_U95),
                    Math.toRadians(number(cells, PHASE_U95)),
                    number(cells, LOW),
                    number(cells, HIGH),
                    number(cells, SNR),
                    null,
                    null,
                    false,
                    null);
        }

        private void require(String[] cells, BandStatus status) throws ExchangeException {
            boolean interval = status == BandStatus.INTERVAL;
            boolean measured = status == BandStatus.MEASURED;
            for (int column = MAGNITUDE; column <= PHASE_U95; column++) {
                if (!measured && !cells[column].isEmpty()) {
                    throw filled(column, status);
                }
            }
            for (int column : new int[] {LOW, HIGH}) {
                if (!interval && !cells[column].isEmpty()) {
                    throw filled(column, status);
                }
            }
            if (measured && cells[MAGNITUDE].isEmpty()) {
                throw new ExchangeException(
                        place + ", magnitude_ohm: empty, though the band is measured; give |Z| in ohms"
                                + " or set the status to rejected");
            }
            if (interval && cells[LOW].isEmpty()) {
                throw new ExchangeException(
                        place + ", magnitude_low_ohm: empty, though the band is an interval; give the"
                                + " lower bound in ohms");
            }
        }

        private ExchangeException filled(int column, BandStatus status) {
            return new ExchangeException(place + ", " + COLUMNS[column] + ": holds a value, though the status is "
                    + status.word() + "; leave it empty or correct the status");
        }

        private double number(String[] cells, int column) throws ExchangeException {
            String cell = cells[column];
            if (cell.isEmpty()) {
                return Double.NaN;
            }
            if (!Numbers.isNumber(cell)) {
                throw new ExchangeException(place + ", " + COLUMNS[column] + ": \"" + cell
                        + "\" is no number; write it like 159.15, with a decimal point and no unit");
            }
            double value = Double.parseDouble(cell);
            if (Math.abs(value) > Permitted.CURVE_OHM.most()) {
                throw new ExchangeException(place + ", " + COLUMNS[column] + ": \"" + cell
                        + "\" is too large; give a number of at most " + Permitted.CURVE_OHM.most());
            }
            return value;
        }
    }
}
