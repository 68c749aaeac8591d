package ohmprint.dsp;

import be.tarsos.dsp.AudioEvent;
import be.tarsos.dsp.AudioProcessor;
import java.util.ArrayList;
import java.util.List;

/**
 * A stretch inside the sound in which every sample is the same: zeros put in, or one value held.
 *
 * @param startFrame its first frame
 * @param frames its length in frames
 */
public record Dropout(long startFrame, long frames) {

    /**
     * Finds stretches where a moving signal stands still: runs of equal samples that the signal around them forbids.
     *
     * <p>A quantised signal may rest on one value by itself, on the crest of a slow wave or when it spans few steps. So a run
     * of 32 samples or more counts only if the signal is alive on both sides, and either moves by four quantisation steps a
     * sample there (on a smooth crest that rests for 32 samples it moves by less than half a step), or jumps at an end of
     * the run by much more than it moves. Runs at the crest of the take are left to the search for clipping, and standstills
     * of a second and more are pauses. The quantisation step is the least difference seen between neighbouring samples.
     */
    static final class Detector implements AudioProcessor {
        private static final int SHORTEST = 32;
        private static final int PROBE = SHORTEST / 2;
        private static final int AFTER = 64;
        private static final int REMEMBERED = 512;
        private static final int MOST_KEPT = 4096;
        private static final float MEMORY = 1f / 32;

        private final double longest;
        private final List<Dropout> found = new ArrayList<>();
        private long frame;
        private float previous = Float.NaN;
        private float step = Float.MAX_VALUE;
        private float highest;
        private float lowest;
        private final float[] tail = new float[REMEMBERED];
        private int tailLength;
        private boolean stale;
        private int run = 1;
        private float movement;
        private float movementBefore;
        private float entryJump;
        private long pendingStart = -1;
        private int pendingLength;
        private float pendingMovement;
        private float pendingJump;
        private int afterCount;
        private double afterSum;

        Detector(double sampleRate) {
            this.longest = sampleRate;
        }

        /** The least difference between neighbouring samples so far, never less than the resolution of a float at the value. */
        double stepAt(float value) {
            return Math.max(step, 2 * Math.ulp(value));
        }

        @Override
        public boolean process(AudioEvent event) {
            float[] x = event.getFloatBuffer();
            if (pendingStart < 0 && !mayHoldRun(x)) {
                pass(x);
            } else {
                if (stale) {
                    recall();
                }
                for (float v : x) {
                    take(v);
                }
            }
            keepTail(x);
            return true;
        }

        private void take(float v) {
            float change = Math.abs(v - previous);
            if (change == 0) {
                run++;
            } else if (change > 0) {
                moved(v, change);
            }
            if (pendingStart >= 0) {
                followUp(change);
            }
            previous = v;
            frame++;
        }

        /**
         * Whether a run of {@value #SHORTEST} equal samples can be in the block or reach into it: such a run holds two sample
         * places in a row of which each is a multiple of {@value #PROBE}, and the one half-way.
         */
        private boolean mayHoldRun(float[] x) {
            if (x[0] == previous) {
                return true;
            }
            for (int i = 0; i + PROBE < x.length; i += PROBE) {
                if (x[i] == x[i + PROBE] && x[i] == x[i + PROBE / 2]) {
                    return true;
                }
            }
            int last = x.length - 1;
            return last > 0 && x[last] == x[last - 1];
        }

        /** A block without runs: only what the whole take is judged by. */
        private void pass(float[] x) {
            float before = previous;
            float least = step;
            float high = highest;
            float low = lowest;
            for (float v : x) {
                float change = Math.abs(v - before);
                if (change < least && change > 0) {
                    least = change;
                }
                if (v > high) {
                    high = v;
                }
                if (v < low) {
                    low = v;
                }
                before = v;
            }
            step = least;
            highest = high;
            lowest = low;
            previous = before;
            frame += x.length;
            stale = true;
        }

        /** Movement, as the samples before this block left it; older ones have no weight any more. */
        private void recall() {
            stale = false;
            long now = frame;
            run = 1;
            movement = 0;
            previous = Float.NaN;
            for (int i = 0; i < tailLength; i++) {
                take(tail[i]);
            }
            frame = now;
        }

        private void keepTail(float[] x) {
            tailLength = Math.min(tail.length, x.length);
            System.arraycopy(x, x.length - tailLength, tail, 0, tailLength);
        }

        private void moved(float v, float change) {
            if (run > 1) {
                if (run >= SHORTEST) {
                    stoodStill(change);
                }
                movement *= run > 256 ? 0 : (float) Math.pow(1 - MEMORY, run - 1);
                run = 1;
            }
            movementBefore = movement;
            movement += (change - movement) * MEMORY;
            entryJump = change;
            if (change < step) {
                step = change;
            }
            if (v > highest) {
                highest = v;
            }
            if (v < lowest) {
                lowest = v;
            }
        }

        private void stoodStill(float exitJump) {
            boolean crest = previous > 0 ? previous >= 0.98f * highest : previous < 0 && previous <= 0.98f * lowest;
            if (crest || run >= longest || movementBefore < stepAt(previous)) {
                return;
            }
            pendingStart = frame - run;
            pendingLength = run;
            pendingMovement = movementBefore;
            pendingJump = Math.max(entryJump, exitJump);
            afterCount = -1;
            afterSum = 0;
        }

        private void followUp(float change) {
            if (afterCount >= 0) {
                afterSum += change;
            }
            afterCount++;
            if (afterCount < AFTER) {
                return;
            }
            double around = Math.min(pendingMovement, afterSum / AFTER);
            double unit = stepAt(previous);
            boolean jumps = pendingJump >= 32 * unit && pendingJump >= 16 * Math.max(pendingMovement, afterSum / AFTER);
            if (around >= 4 * unit || (around >= unit && jumps)) {
                if (found.size() < MOST_KEPT) {
                    found.add(new Dropout(pendingStart, pendingLength));
                }
            }
            pendingStart = -1;
        }

        @Override
        public void processingFinished() {
            pendingStart = -1;
        }

        /** The standstills that begin and end within a stretch of frames, in order; at most 4096. */
        List<Dropout> within(long from, long to) {
            return found.stream()
                    .filter(d -> d.startFrame >= from && d.startFrame + d.frames <= to)
                    .toList();
        }
    }
}
