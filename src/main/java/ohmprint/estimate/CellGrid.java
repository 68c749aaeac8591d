package ohmprint.estimate;

import java.util.Arrays;

/** Cells of equal width in ln f, edges at whole multiples from 1 Hz on, and the bins that lie in each; none is empty. */
final class CellGrid {
    private final int[] cell;
    private final int[] members;
    private final double[] centres;

    private CellGrid(int[] cell, int[] members, double[] centres) {
        this.cell = cell;
        this.members = members;
        this.centres = centres;
    }

    /**
     * Sorts bins into cells.
     *
     * @param bins the bins
     * @param perOctave cells per octave
     */
    static CellGrid of(BinObservations bins, int perOctave) {
        int[] cell = new int[bins.size()];
        int[] members = new int[bins.size()];
        double[] sum = new double[bins.size()];
        double before = Double.NaN;
        int cells = 0;
        for (int i = 0; i < cell.length; i++) {
            double now = Math.floor(perOctave * Math.log(bins.hz(i)) / Math.log(2));
            cells += now == before ? 0 : 1;
            before = now;
            cell[i] = cells - 1;
            members[cells - 1] += bins.count(i);
            sum[cells - 1] += bins.count(i) * bins.hz(i);
        }
        double[] centres = new double[cells];
        for (int c = 0; c < cells; c++) {
            centres[c] = sum[c] / members[c];
        }
        return new CellGrid(cell, Arrays.copyOf(members, cells), centres);
    }

    /** The cell of bin {@code i}, counted from 0. */
    int cell(int i) {
        return cell[i];
    }

    /** Number of elementary bins in each cell. */
    int[] members() {
        return members;
    }

    /** Mean frequency of each cell in hertz. */
    double[] centres() {
        return centres;
    }
}
