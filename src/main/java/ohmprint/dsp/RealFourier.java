package ohmprint.dsp;

import java.lang.ref.WeakReference;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicBoolean;
import org.jspecify.annotations.Nullable;
import org.jtransforms.fft.DoubleFFT_1D;
import org.visnow.jlargearrays.ConcurrencyUtils;

/**
 * Discrete Fourier transform of real sequences of even length, and of any where the sound itself asks for it:
 * {@code X_i = Σ x_n·e^(−j2πin/N)}.
 *
 * <p>Transforms work in place on the packed layout {@code [X_0, X_{N/2}, Re X_1, Im X_1, Re X_2, Im X_2, …]}. Plans are
 * shared and may be used by several threads at once, and those that were used last are kept ready; a single transform runs on the calling thread only, because takes
 * are processed side by side and the FFT library's own pool would keep the program alive after its work is done.
 */
public final class RealFourier {
    static {
        ConcurrencyUtils.setNumberOfThreads(1);
    }

    /** Shortest power of two that runs through all parts of the algorithm that long transforms do. */
    private static final int PRACTICE_LENGTH = 1024;
    /** More calls than the virtual machine wants to see before it compiles a method. */
    private static final int PRACTICE_ROUNDS = 120;

    private static final AtomicBoolean PREPARED = new AtomicBoolean();
    private static final Plans PLANS = new Plans();

    private final int n;
    private final DoubleFFT_1D plan;

    private RealFourier(int n) {
        this.n = n;
        this.plan = new DoubleFFT_1D(n);
    }

    /**
     * Has the virtual machine compile the transforms by some hundred short ones, the first time it is called: for a thread
     * beside one that has other work to do. Not calling it does no harm.
     */
    public static void prepare() {
        if (!PREPARED.compareAndSet(false, true)) {
            return;
        }
        RealFourier fft = ofLength(PRACTICE_LENGTH);
        double[] x = new double[PRACTICE_LENGTH];
        for (int i = 0; i < PRACTICE_ROUNDS; i++) {
            fft.forward(x);
            fft.inverse(x);
        }
    }

    /**
     * The transform of length {@code n}.
     *
     * @throws IllegalArgumentException if {@code n} is not a power of two of at least 4
     */
    public static RealFourier ofLength(int n) {
        if (n < 4 || Integer.bitCount(n) != 1) {
            throw new IllegalArgumentException("transform length must be a power of two of at least 4, not " + n);
        }
        return PLANS.of(n);
    }

    /**
     * The transform of a period of any length, for sounds that repeat themselves; slower when the length has large
     * prime factors. Of an odd length the highest bin, {@code (n−1)/2}, is laid out differently and is not to be touched.
     *
     * @throws IllegalArgumentException if {@code n} is below 4
     */
    public static RealFourier ofPeriod(int n) {
        if (n < 4) {
            throw new IllegalArgumentException("a period has 4 samples or more, not " + n);
        }
        return PLANS.of(n);
    }

    /** Smallest power of two that is at least {@code count}, 4 or more. */
    public static int lengthFor(long count) {
        if (count > 1 << 30) {
            throw new IllegalArgumentException(count + " samples are too many for one transform of at most 2^30");
        }
        return count <= 4 ? 4 : Integer.highestOneBit((int) (count - 1)) << 1;
    }

    /** Length N of the sequences. */
    public int length() {
        return n;
    }

    /** Forward transform in place, real samples to packed spectrum. */
    public void forward(double[] data) {
        plan.realForward(data);
    }

    /** Inverse transform in place, packed spectrum to real samples; undoes {@link #forward}. */
    public void inverse(double[] data) {
        plan.realInverse(data, true);
    }

    /** Real part of bin {@code i}, 0 ≤ i ≤ N/2, of a packed spectrum. */
    public double re(double[] packed, int i) {
        return i == n / 2 ? packed[1] : packed[2 * i];
    }

    /** Imaginary part of bin {@code i}, 0 ≤ i ≤ N/2, of a packed spectrum. */
    public double im(double[] packed, int i) {
        return i == 0 || i == n / 2 ? 0 : packed[2 * i + 1];
    }

    /**
     * Plans that are ready. Those used last are held as long as they fit into {@link #MOST_BYTES}; another one lasts as long
     * as somebody uses it, so that none is made twice within one piece of work.
     */
    static final class Plans {
        /** Room for the longest power of two that a take is divided in, and the shorter ones beside it. */
        static final long MOST_BYTES = 64L << 20;

        private final Map<Integer, Slot> slots = new ConcurrentHashMap<>();
        private final LinkedHashMap<Integer, RealFourier> recent = new LinkedHashMap<>(16, 0.75f, true);
        private long bytes;

        RealFourier of(int n) {
            RealFourier fft = slots.computeIfAbsent(n, Slot::new).get();
            synchronized (recent) {
                if (recent.put(n, fft) == null) {
                    bytes += bytes(n);
                    var eldest = recent.entrySet().iterator();
                    while (bytes > MOST_BYTES && recent.size() > 1) {
                        bytes -= bytes(eldest.next().getKey());
                        eldest.remove();
                    }
                    slots.values().removeIf(Slot::isCleared);
                }
            }
            return fft;
        }

        /**
         * About how much a plan of this length holds. A power of two needs a table of sines and cosines; lengths of small
         * prime factors need factors for each of three kinds of transform; all others are brought to a power of two of at
         * least twice the length, with two complex sequences of that length beside it.
         */
        static long bytes(int n) {
            if (Integer.bitCount(n) == 1) {
                return 8L * n;
            }
            int rest = n;
            for (int factor : new int[] {4, 2, 3, 5}) {
                while (rest % factor == 0) {
                    rest /= factor;
                }
            }
            return rest < 211 ? 48L * n : 40L * lengthFor(2L * n - 1);
        }

        /** One plan, made once at a time. */
        private static final class Slot {
            private final int n;
            private @Nullable WeakReference<RealFourier> made;

            Slot(int n) {
                this.n = n;
            }

            synchronized RealFourier get() {
                RealFourier fft = made == null ? null : made.get();
                if (fft == null) {
                    fft = new RealFourier(n);
                    made = new WeakReference<>(fft);
                }
                return fft;
            }

            synchronized boolean isCleared() {
                return made != null && made.get() == null;
            }
        }
    }
}
