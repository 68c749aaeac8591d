package ohmprint.app.measure;

import java.io.IOException;
import java.nio.file.Path;
import java.util.OptionalLong;
import java.util.function.DoubleUnaryOperator;
import ohmprint.audiofile.AudioFiles;
import ohmprint.dsp.HumLines;
import ohmprint.dsp.NoiseFloor;
import ohmprint.dsp.SampleSource;
import ohmprint.dsp.Samples;
import ohmprint.dsp.TakeAnalyzer;
import ohmprint.dsp.TakeIndicators;
import ohmprint.estimation.TakeRecording;
import ohmprint.session.Session;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/**
 * One take as the first pass over its file shows it.
 *
 * @param take the entry of the manifest
 * @param indicators what the microphone's channel shows
 * @param reference what the reference channel shows, or null without one
 * @param floor noise floor of the lead-in, hum left out, or null when the lead-in is too short
 * @param hum lines in the lead-in, or null likewise
 * @param backgroundDropDb how far the background fell below the lead-in while the sound lasted or after it, dB; NaN when
 *     the lead-in does not tell
 * @param recording the take as the observers read it
 */
public record TakeInspection(
        Take take,
        TakeIndicators indicators,
        @Nullable TakeIndicators reference,
        @Nullable NoiseFloor floor,
        @Nullable HumLines hum,
        double backgroundDropDb,
        TakeRecording recording) {
    /** Most frames of the lead-in that its noise floor is taken from. */
    private static final int KEPT = 1 << 19;

    /** Guard between the end of the lead-in and the onset as detected, as a share of the lead-in. */
    private static final double GUARD_SHARE = 0.15;

    private static final double MARGIN_BEFORE_SECONDS = 0.1;
    private static final double MARGIN_AFTER_SECONDS = 0.4;
    /** Stands in for the noise density where no silence tells it: equal in all takes, so weights stay equal. */
    private static final double UNKNOWN_DENSITY = 1e-14;

    private static final double HEARD_HZ = 1000;

    /**
     * Reads a take, and once more its lead-in.
     *
     * @throws IOException if its file cannot be read
     */
    public static TakeInspection of(Session session, Take take) throws IOException {
        Path path = session.path(take);
        int channel = take.channel() - 1;
        int reference = take.referenceChannel() == null ? -1 : take.referenceChannel() - 1;
        try (SampleSource source = AudioFiles.open(path)) {
            double rate = source.sampleRate();
            TakeAnalyzer scan = TakeAnalyzer.of(source, channel, reference);
            TakeIndicators seen = scan.indicators();
            TakeIndicators heard = scan.reference();
            long zeros = scan.leadingZeros();
            long sound = leadIn(seen.onsetFrame());
            // Zeros before the background are the recorder's or an editor's; only where nothing else is there they are
            // kept.
            boolean behind = sound - zeros >= NoiseFloor.LEAST_SECONDS * rate;
            long first = behind ? zeros : 0;
            LeadIn before = LeadIn.of(path, channel, first, sound, rate);
            LeadIn beforeReference = heard == null
                    ? LeadIn.UNKNOWN
                    : LeadIn.of(path, reference, first, Math.min(sound, leadIn(heard.onsetFrame())), rate);
            TakeRecording recording = new TakeRecording(
                    () -> AudioFiles.open(path),
                    channel,
                    reference,
                    Math.max(0, seen.onsetFrame().orElse(0) - (long) (MARGIN_BEFORE_SECONDS * rate)),
                    Math.min(
                            seen.frames(),
                            seen.endFrame().orElse(seen.frames()) + (long) (MARGIN_AFTER_SECONDS * rate)),
                    before.density(rate),
                    beforeReference.density(rate));
            return new TakeInspection(
                    take, seen, heard, before.floor(), before.hum(), scan.backgroundDropDb(first, sound), recording);
        }
    }

    /** Whether silence tells the noise: zeros, as a gate or an editor leaves them, tell none. */
    boolean isNoiseKnown() {
        return floor != null && recording.noise().applyAsDouble(HEARD_HZ) > NoiseDensity.LEAST;
    }

    private static long leadIn(OptionalLong onset) {
        return (long) ((1 - GUARD_SHARE) * onset.orElse(0));
    }

    /** What one channel holds before the sound; both null when that is too short. */
    private record LeadIn(
            @Nullable NoiseFloor floor, @Nullable HumLines hum) {
        static final LeadIn UNKNOWN = new LeadIn(null, null);

        static LeadIn of(Path path, int channel, long from, long to, double rate) throws IOException {
            try (SampleSource source = AudioFiles.open(path)) {
                source.skip(from);
                double[] silence = Samples.channel(source, channel, (int) Math.min(KEPT, Math.max(0, to - from)));
                HumLines hum = silence.length >= HumLines.LEAST_SECONDS * rate ? HumLines.find(silence, rate) : null;
                NoiseFloor floor = silence.length >= NoiseFloor.LEAST_SECONDS * rate && hum != null
                        ? NoiseFloor.without(hum, silence, rate)
                        : null;
                return new LeadIn(floor, hum);
            }
        }

        DoubleUnaryOperator density(double rate) {
            return floor == null || hum == null ? hz -> UNKNOWN_DENSITY : NoiseDensity.of(floor, hum, rate);
        }
    }

    /**
     * Noise of a take against frequency, tabulated: asked for every bin, it has to be quick.
     *
     * <p>The floor between the lines is interpolated linearly over {@value #POINTS} points that are uniform in ln f. The power
     * of each line is spread over {@value #REACH_HZ} Hz to both sides, so that bins next to hum weigh as little as they
     * deserve.
     */
    private static final class NoiseDensity implements DoubleUnaryOperator {
        private static final int POINTS = 600;
        private static final double LOWEST_HZ = 5;
        private static final double REACH_HZ = 2;
        /** Full-scale² per hertz of a silence of zeros: no weight may be infinite. */
        static final double LEAST = 1e-19;

        private final double logLow;
        private final double perStep;
        private final double[] density;
        private final double[] lineHz;
        private final double[] lineDensity;

        private NoiseDensity(double logLow, double perStep, double[] density, double[] lineHz, double[] lineDensity) {
            this.logLow = logLow;
            this.perStep = perStep;
            this.density = density;
            this.lineHz = lineHz;
            this.lineDensity = lineDensity;
        }

        /** Tabulates a floor and the lines that were left out of it. */
        static NoiseDensity of(NoiseFloor floor, HumLines hum, double sampleRate) {
            double low = Math.log(LOWEST_HZ);
            double step = (Math.log(sampleRate / 2) - low) / (POINTS - 1);
            double[] density = new double[POINTS];
            for (int i = 0; i < POINTS; i++) {
                density[i] = Math.max(LEAST, floor.psd(Math.exp(low + i * step)));
            }
            double[] hz = hum.lines().stream().mapToDouble(HumLines.Line::hz).toArray();
            double[] spread = hum.lines().stream()
                    .mapToDouble(l -> Math.pow(10, l.levelDbfs() / 10) / (2 * REACH_HZ))
                    .toArray();
            return new NoiseDensity(low, 1 / step, density, hz, spread);
        }

        @Override
        public double applyAsDouble(double hz) {
            double place = Math.min(POINTS - 1.000001, Math.max(0, (Math.log(hz) - logLow) * perStep));
            int i = (int) place;
            double d = density[i] + (place - i) * (density[i + 1] - density[i]);
            for (int l = 0; l < lineHz.length; l++) {
                if (Math.abs(lineHz[l] - hz) <= REACH_HZ) {
                    d += lineDensity[l];
                }
            }
            return d;
        }
    }
}
