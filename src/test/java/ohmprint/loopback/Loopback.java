package ohmprint.loopback;

import java.util.Random;
import ohmprint.audiodevice.JavaSound;
import ohmprint.audiodevice.RunReport;
import ohmprint.audiodevice.SoundRun;

/**
 * Plays random samples of 24 bits and counts how many come back changed. Arguments: sample rate, seconds. Prints one JSON
 * object.
 */
final class Loopback {
    private static final int STEPS = 1 << 23;

    private Loopback() {}

    public static void main(String[] args) throws Exception {
        int rate = Integer.parseInt(args[0]);
        double[] sound = new double[(int) (Double.parseDouble(args[1]) * rate)];
        Random random = new Random(rate);
        for (int i = 0; i < sound.length; i++) {
            sound[i] = (random.nextInt(2 * STEPS) - STEPS) / (double) STEPS;
        }
        double[][] taken = new double[2][sound.length + 4 * rate];
        int[] frames = {0};
        RunReport report = new JavaSound().run(new SoundRun(null, null, rate, 2, sound, 0.3, 0.3), (samples, count) -> {
            for (int c = 0; c < 2; c++) {
                System.arraycopy(samples[c], 0, taken[c], frames[0], count);
            }
            frames[0] += count;
            return true;
        });
        int start = 0;
        while (start < frames[0] && taken[0][start] != sound[0]) {
            start++;
        }
        int changed = 0;
        for (int i = 0; i < sound.length; i++) {
            boolean same = start + i < frames[0] && taken[0][start + i] == sound[i] && taken[1][start + i] == sound[i];
            changed += same ? 0 : 1;
        }
        System.out.println("{\"event\":\"loopback\",\"bits\":" + report.bits() + ",\"samples\":" + sound.length
                + ",\"changed\":" + changed + ",\"start\":" + start + ",\"gap\":" + report.playbackRanEmpty()
                + ",\"lost\":" + report.lostSeconds() + "}");
        System.exit(0);
    }
}
