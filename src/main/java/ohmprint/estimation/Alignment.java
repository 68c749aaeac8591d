package ohmprint.estimation;

import java.io.IOException;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.dsp.PhaseTransform.LagSearch;
import ohmprint.dsp.SampleSource;
import ohmprint.dsp.Samples;

/**
 * Whole-sample position of every take relative to a pivot take.
 *
 * @param pivot index of the take that the others are compared with
 * @param lags position of every take's sound behind the pivot's, samples; 0 for the pivot
 * @param prominence prominence of each correlation peak; infinite for the pivot
 */
public record Alignment(int pivot, long[] lags, double[] prominence) {
    /** Longest excerpt of the pivot that is looked for, samples. */
    private static final int EXCERPT = 1 << 18;

    /** Copies the arrays. */
    public Alignment {
        lags = lags.clone();
        prominence = prominence.clone();
    }

    /**
     * Looks for an excerpt of the pivot in each other take.
     *
     * @param takes the takes, two or more
     * @param pivot index of the pivot
     * @throws IOException if a take cannot be read
     */
    public static Alignment of(List<TakeRecording> takes, int pivot) throws IOException {
        TakeRecording p = takes.get(pivot);
        long length = Math.min(EXCERPT, p.soundEnd() - p.soundStart());
        long start = p.soundStart() + (p.soundEnd() - p.soundStart() - length) / 2;
        double[] excerpt = excerpt(p, start, (int) length);
        LagSearch[] found = Parallel.map(
                IntStream.range(0, takes.size()).boxed().toList(),
                k -> k == pivot ? new LagSearch(start, Double.POSITIVE_INFINITY) : search(excerpt, takes.get(k)),
                LagSearch[]::new);
        long[] lags = new long[takes.size()];
        double[] prominence = new double[takes.size()];
        for (int k = 0; k < lags.length; k++) {
            lags[k] = found[k].frames() - start;
            prominence[k] = found[k].prominence();
        }
        return new Alignment(pivot, lags, prominence);
    }

    private static double[] excerpt(TakeRecording take, long start, int length) throws IOException {
        try (SampleSource source = take.opener().open()) {
            source.skip(start);
            return Samples.channel(source, take.channel(), length);
        }
    }

    private static LagSearch search(double[] excerpt, TakeRecording take) throws IOException {
        try (SampleSource source = take.opener().open()) {
            return LagSearch.find(excerpt, source, take.channel());
        }
    }

    /** True when take {@code k} holds the pivot's sound beyond chance. */
    public boolean found(int k) {
        return prominence[k] > LagSearch.SIGNIFICANT;
    }
}
