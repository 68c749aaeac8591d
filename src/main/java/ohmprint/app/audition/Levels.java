package ohmprint.app.audition;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** Level, peak and loudest passages of a take and of what is made of it, gathered in one go. */
final class Levels implements Rendering.Listener {
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
