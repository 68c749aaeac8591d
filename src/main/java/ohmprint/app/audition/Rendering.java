package ohmprint.app.audition;

import java.io.Closeable;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import ohmprint.dsp.FittedFilter;
import ohmprint.dsp.OverlapAdd;
import ohmprint.dsp.SampleSource;

/**
 * A take and what the filter makes of it, block by block and sample for sample at the same place.
 *
 * <p>The filter is early by its lead, so its output is taken that much later; the take waits for it.
 */
final class Rendering implements Closeable {
    private final SampleSource take;
    private final OverlapAdd filter;
    private final int channel;
    private final int block;
    private final int lead;
    private final double[][] read;
    private final double[][] held;
    private final double[][] plain;
    private final double[][] rendered;
    private long left;

    /**
     * Begins at the first frame.
     *
     * @param take the take, closed with this
     * @param filter the filter
     * @param channel the only channel to filter, counted from 0, or negative for all
     */
    Rendering(SampleSource take, FittedFilter filter, int channel) {
        this.take = take;
        double[] taps = filter.taps();
        block = taps.length;
        lead = filter.lead();
        int channels = take.channels();
        this.filter = new OverlapAdd(channels, taps);
        this.channel = channel;
        read = new double[channels][block];
        held = new double[channels][lead + block];
        plain = new double[channels][block];
        rendered = new double[channels][block];
        left = take.frames() + lead;
    }

    /** Gets the next frames of both. */
    interface Listener {
        /**
         * Hears some frames.
         *
         * @param plain the take, one array per channel
         * @param rendered what the filter makes of it
         * @param offset first index of both
         * @param count frames
         */
        void frames(double[][] plain, double[][] rendered, int offset, int count) throws IOException;
    }

    /**
     * Passes on the next block.
     *
     * @return false when the take is at its end
     */
    boolean next(Listener listener) throws IOException {
        if (left <= 0) {
            return false;
        }
        boolean first = left == take.frames() + lead;
        int got = take.read(read, 0, block);
        for (int c = 0; c < read.length; c++) {
            Arrays.fill(read[c], got, block, 0);
            System.arraycopy(held[c], block, held[c], 0, lead);
            System.arraycopy(read[c], 0, held[c], lead, block);
            System.arraycopy(held[c], 0, plain[c], 0, block);
            if (channel < 0 || channel == c) {
                System.arraycopy(read[c], 0, rendered[c], 0, block);
                filter.pass(c, rendered[c]);
            } else {
                System.arraycopy(plain[c], 0, rendered[c], 0, block);
            }
        }
        int now = (int) Math.min(left, block);
        int skip = first ? lead : 0;
        left -= now;
        if (now > skip) {
            listener.frames(plain, rendered, skip, now - skip);
        }
        return true;
    }

    /** Frames that are still to come, with the lead. */
    long left() {
        return left;
    }

    @Override
    public void close() throws IOException {
        take.close();
    }

    /** Level, peak and loudest passages of a take and of what is made of it, gathered in one go. */
    static final class Levels implements Rendering.Listener {
        /** Parts into which a second is divided when the loudest passages are looked for. */
        private static final int PARTS_PER_SECOND = 4;

        private final int partFrames;
        private final List<Double> parts = new ArrayList<>();
        private double part;
        private int inPart;
        private double plainEnergy;
        private double renderedEnergy;
        private double plainPeak;
        private double renderedPeak;
        private final int channel;

        /**
         * Nothing heard yet.
         *
         * @param rate sample rate in hertz
         * @param channel the only channel that is filtered, counted from 0, or negative for all
         */
        Levels(double rate, int channel) {
            partFrames = Math.max(1, (int) Math.round(rate / PARTS_PER_SECOND));
            this.channel = channel;
        }

        @Override
        public void frames(double[][] plain, double[][] rendered, int offset, int count) {
            for (int i = offset; i < offset + count; i++) {
                for (int c = 0; c < plain.length; c++) {
                    double x = plain[c][i];
                    double y = rendered[c][i];
                    plainPeak = Math.max(plainPeak, Math.abs(x));
                    renderedPeak = Math.max(renderedPeak, Math.abs(y));
                    if (channel < 0 || channel == c) {
                        part += x * x;
                        plainEnergy += x * x;
                        renderedEnergy += y * y;
                    }
                }
                if (++inPart == partFrames) {
                    parts.add(part);
                    part = 0;
                    inPart = 0;
                }
            }
        }

        /** Highest absolute sample of the take, 1 at full scale. */
        double plainPeak() {
            return plainPeak;
        }

        /** Highest absolute sample of the result. */
        double renderedPeak() {
            return renderedPeak;
        }

        /** Root mean square of the result over that of the take, filtered channels only; NaN for silence. */
        double ratio() {
            return plainEnergy > 0 ? Math.sqrt(renderedEnergy / plainEnergy) : Double.NaN;
        }

        /**
         * First frames of the loudest passages, in the order of the take, without overlap.
         *
         * @param most how many at most
         * @param seconds length of each in quarters of a second; a shorter take is one passage
         */
        List<Long> loudest(int most, double seconds) {
            int length = (int) Math.round(seconds * PARTS_PER_SECOND);
            if (parts.size() <= length) {
                return List.of(0L);
            }
            double[] sum = new double[parts.size() + 1];
            for (int i = 0; i < parts.size(); i++) {
                sum[i + 1] = sum[i] + parts.get(i);
            }
            List<Integer> starts = new ArrayList<>();
            for (int i = 0; i + length <= parts.size(); i++) {
                starts.add(i);
            }
            starts.sort(Comparator.comparingDouble(i -> sum[i] - sum[i + length]));
            List<Integer> chosen = new ArrayList<>();
            for (int start : starts) {
                if (chosen.size() < most && chosen.stream().allMatch(c -> Math.abs(c - start) >= length)) {
                    chosen.add(start);
                }
            }
            return chosen.stream().sorted().map(p -> (long) p * partFrames).toList();
        }
    }
}
