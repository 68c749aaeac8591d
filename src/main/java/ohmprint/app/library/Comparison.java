package ohmprint.app.library;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.chart.ChartTheme;
import ohmprint.chart.OverlayChart;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Provenance.TakeOrigin;
import ohmprint.library.CurveLibrary;
import ohmprint.library.LibraryException;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.distribution.TDistribution;
import org.apache.commons.math3.special.Erf;
import org.jspecify.annotations.Nullable;

/**
 * Curves laid over each other, and where they differ more than their uncertainty explains; how is in the comment of the
 * package.
 *
 * @param curves the curves, the first being what the others are compared with
 * @param differences one for each further curve
 */
public record Comparison(List<NamedCurve> curves, List<Difference> differences) {
    /** Of the bands called different, the share that may be so by chance. */
    private static final double FALSE_SHARE = 0.05;

    /** Degrees of freedom from which Student's t counts as normal. */
    private static final double MANY = 1e4;

    private static final int MOST_CURVES = 6;

    /** Copies the lists. */
    public Comparison {
        curves = List.copyOf(curves);
        differences = List.copyOf(differences);
    }

    /**
     * Compares each further curve with the first.
     *
     * @param curves measurements of the library or files, two to six
     * @param sameBench whether loads and input were the very same for all, so that their errors are common
     */
    public static Comparison run(LibraryConnection place, List<String> curves, boolean sameBench)
            throws BadInputException, IOException {
        if (curves.size() < 2 || curves.size() > MOST_CURVES) {
            throw new BadInputException("compare was given " + curves.size() + " curves; give two to " + MOST_CURVES);
        }
        boolean library = curves.stream().anyMatch(CurveArgument::namesAnEntry);
        List<NamedCurve> all = library ? place.with(open -> read(open, curves)) : readFiles(curves);
        return of(all, sameBench);
    }

    private static List<NamedCurve> read(CurveLibrary library, List<String> curves)
            throws BadInputException, IOException, LibraryException {
        List<NamedCurve> all = new ArrayList<>();
        for (String curve : curves) {
            all.add(CurveArgument.read(library, curve).curve());
        }
        return all;
    }

    private static List<NamedCurve> readFiles(List<String> curves) throws BadInputException, IOException {
        List<NamedCurve> all = new ArrayList<>();
        for (String curve : curves) {
            all.add(NamedCurve.of(curve));
        }
        return all;
    }

    /**
     * Compares curves that were read.
     *
     * @param all two curves or more
     * @param sameBench as for {@link #run}
     * @throws BadInputException if one shares no band with the first
     */
    public static Comparison of(List<NamedCurve> all, boolean sameBench) throws BadInputException {
        Measurement first = all.get(0).measurement();
        List<Difference> differences = new ArrayList<>();
        for (NamedCurve other : all.subList(1, all.size())) {
            Difference difference = difference(first, other.measurement(), sameBench);
            if (difference.bands().isEmpty()) {
                throw new BadInputException(other.name() + " and " + all.get(0).name()
                        + " share no band in which both have a value; compare curves of the same range");
            }
            differences.add(difference);
        }
        return new Comparison(all, differences);
    }

    private static Difference difference(Measurement first, Measurement second, boolean sameBench) {
        FrequencyBands bands = coarser(first.curve(), second.curve());
        List<Double> hz = new ArrayList<>();
        List<ImpedanceCurve.LogRatio> values = new ArrayList<>();
        for (double f : bands.midbands()) {
            ImpedanceCurve.LogRatio ratio = second.curve().ratioTo(first.curve(), f, sameBench);
            if (ratio != null) {
                hz.add(f);
                values.add(ratio);
            }
        }
        double[] p = values.stream().mapToDouble(Comparison::chance).toArray();
        boolean[] differs = differing(p, FALSE_SHARE);
        List<Difference.Band> out = new ArrayList<>();
        for (int i = 0; i < p.length; i++) {
            double d = values.get(i).log();
            double half = CoverageFactor.student(values.get(i).freedom())
                    * values.get(i).u();
            out.add(new Difference.Band(hz.get(i), percent(d), percent(d - half), percent(d + half), differs[i]));
        }
        double step = Math.pow(FrequencyBands.OCTAVE_RATIO, 1.0 / bands.fraction());
        return new Difference(
                second.microphone().label(),
                out,
                Difference.ranges(out, step),
                assumed(
                        first,
                        second,
                        sameBench
                                && first.curve().covariance() != null
                                && second.curve().covariance() != null,
                        sameBench),
                OneMicrophone.warning(first.microphone(), second.microphone()));
    }

    /** Probability of a difference at least as large when there is none: 2(1 − F(|d|/u)), F that of Student's t. */
    private static double chance(ImpedanceCurve.LogRatio difference) {
        double d = difference.log();
        if (d == 0 || !(difference.u() > 0)) {
            return d == 0 ? 1 : 0;
        }
        double t = Math.abs(d) / difference.u();
        return difference.freedom() < MANY
                ? 2 * new TDistribution(null, difference.freedom()).cumulativeProbability(-t)
                : Erf.erfc(t / Math.sqrt(2));
    }

    private static double percent(double log) {
        return 100 * Math.expm1(log);
    }

    private static FrequencyBands coarser(ImpedanceCurve a, ImpedanceCurve b) {
        return a.bands().fraction() <= b.bands().fraction() ? a.bands() : b.bands();
    }

    private static String assumed(Measurement first, Measurement second, boolean told, boolean sameBench) {
        List<String> sentences = new ArrayList<>();
        if (sameBench && !told) {
            sentences.add(
                    "One of the curves does not tell what each load and the input do to it, so that errors which both"
                            + " share cannot be taken off: all errors count as independent. Measure its takes again with this program"
                            + " to have them told.");
        } else if (sameBench) {
            sentences.add(
                    "Loads and input count as the very same in both, as you said: their errors act to the same side"
                            + " and only what differs of them counts.");
        } else if (loads(first).equals(loads(second))
                && first.provenance().input().equals(second.provenance().input())) {
            sentences.add(
                    "All errors count as independent. Both sessions state the same loads and input; if they were the"
                            + " very same resistors and input, say so (--same-bench in the command line), and their"
                            + " common error drops out.");
        } else {
            sentences.add("All errors count as independent, which for errors to the same side is the cautious choice.");
        }
        Set<String> common = new HashSet<>(takes(first));
        common.retainAll(takes(second));
        if (!common.isEmpty()) {
            sentences.add("Both curves come from the same recordings, so that their errors are not independent; what"
                    + " differs here is how they were computed.");
        }
        if (first.curve().parallelWithInput() != second.curve().parallelWithInput()) {
            sentences.add("One of them is that of the source in parallel with its input, and so too low.");
        }
        return String.join(" ", sentences);
    }

    private static String loads(Measurement m) {
        return m.provenance().takes().stream()
                .map(t -> t.loadOhm() + " " + t.loadTolerancePercent())
                .sorted()
                .distinct()
                .collect(Collectors.joining("; "));
    }

    private static Set<String> takes(Measurement m) {
        return m.provenance().takes().stream()
                .map((TakeOrigin t) -> t.file().sha256())
                .collect(Collectors.toSet());
    }

    /**
     * Which tests are positive by the rule of Benjamini and Hochberg, which calls as many so as possible while of those no more
     * than a given share is expected to be so by chance: with the p-values in ascending order, all up to the last with {@code
     * p_(k) ≤ k·q/m}. Source: Benjamini and Hochberg 1995, J. R. Statist. Soc. B 57, 289, procedure (1).
     *
     * @param p p-values in any order, not-a-number for tests that were not made
     * @param share largest expected share of false ones among the positive, q
     */
    static boolean[] differing(double[] p, double share) {
        Integer[] made = IntStream.range(0, p.length)
                .filter(i -> !Double.isNaN(p[i]))
                .boxed()
                .toArray(Integer[]::new);
        Arrays.sort(made, Comparator.comparingDouble(i -> p[i]));
        int last = 0;
        for (int k = 1; k <= made.length; k++) {
            if (p[made[k - 1]] <= k * share / made.length) {
                last = k;
            }
        }
        boolean[] positive = new boolean[p.length];
        for (int k = 0; k < last; k++) {
            positive[made[k]] = true;
        }
        return positive;
    }

    /** The differences as a table: one row for each further curve and band. */
    public String csv() {
        StringBuilder text = new StringBuilder(
                "curve,frequency_hz,difference_percent,difference_low_percent,difference_high_percent,differs\n");
        for (int i = 0; i < differences.size(); i++) {
            for (Difference.Band b : differences.get(i).bands()) {
                text.append(String.format(
                        Locale.ROOT,
                        "%d,%.9g,%.6g,%.6g,%.6g,%s%n".replace("%n", "\n"),
                        i + 2,
                        b.hz(),
                        b.percent(),
                        b.lowPercent(),
                        b.highPercent(),
                        b.differs() ? "yes" : "no"));
            }
        }
        return text.toString();
    }

    /** The picture as the bytes of a file. */
    public byte[] picture(PictureKind kind) {
        return kind.draw(data());
    }

    /** The picture, not drawn yet. */
    public OverlayChart chart(ChartTheme theme) {
        return OverlayChart.of(data(), theme);
    }

    private OverlayChart.Data data() {
        List<OverlayChart.Curve> lines = new ArrayList<>();
        for (int i = 0; i < curves.size(); i++) {
            lines.add(new OverlayChart.Curve(
                    curves.get(i).measurement().microphone().label(),
                    curves.get(i).measurement().curve(),
                    i == 0 ? List.of() : points(differences.get(i - 1))));
        }
        return new OverlayChart.Data(
                title(),
                "Source impedance, each with its 95 % band, and the difference from the first",
                lines,
                null,
                "Marked are bands that differ from the first curve more than the uncertainty of both explains, with no more"
                        + " than 5 % of the marks expected by chance. "
                        + differences.get(0).assumed());
    }

    private String title() {
        String others = differences.size() == 1 ? differences.get(0).label() : differences.size() + " others";
        return others + " against " + curves.get(0).measurement().microphone().label();
    }

    private static List<OverlayChart.Point> points(Difference difference) {
        return difference.bands().stream()
                .map(b -> new OverlayChart.Point(b.hz(), b.percent(), b.lowPercent(), b.highPercent(), b.differs()))
                .toList();
    }

    /**
     * Where one curve differs from another.
     *
     * @param label the second curve's microphone
     * @param bands the bands in which both have a value, ascending
     * @param ranges runs of neighbouring bands that differ to the same side
     * @param assumed what was taken for granted about common errors, in words
     * @param different a warning that the curves are those of two microphones, or null
     */
    public record Difference(
            String label,
            List<Band> bands,
            List<Range> ranges,
            String assumed,
            @Nullable String different) {
        /** Copies the lists. */
        public Difference {
            bands = List.copyOf(bands);
            ranges = List.copyOf(ranges);
        }

        /**
         * The difference in one band.
         *
         * @param hz midband in hertz
         * @param percent difference of |Z|, percent of the first
         * @param lowPercent lower end of its 95 % interval
         * @param highPercent upper end of its 95 % interval
         * @param differs whether it is significant
         */
        public record Band(double hz, double percent, double lowPercent, double highPercent, boolean differs) {}

        /**
         * A run of bands that differ.
         *
         * @param fromHz lowest midband in hertz
         * @param toHz highest midband in hertz
         * @param bands how many
         * @param largest the band with the largest difference
         */
        public record Range(double fromHz, double toHz, int bands, Band largest) {}

        /** How many bands differ. */
        public long count() {
            return bands.stream().filter(Band::differs).count();
        }

        /** The runs among bands of which {@code step} is the ratio of neighbours. */
        static List<Range> ranges(List<Band> bands, double step) {
            List<Range> ranges = new ArrayList<>();
            List<Band> run = new ArrayList<>();
            for (Band band : bands) {
                boolean goesOn = !run.isEmpty()
                        && band.differs()
                        && Math.signum(band.percent()) == Math.signum(run.get(0).percent())
                        && band.hz() < run.get(run.size() - 1).hz() * step * 1.01;
                if (!goesOn) {
                    close(run, ranges);
                }
                if (band.differs()) {
                    run.add(band);
                }
            }
            close(run, ranges);
            return ranges;
        }

        private static void close(List<Band> run, List<Range> ranges) {
            if (!run.isEmpty()) {
                Band largest = run.get(0);
                for (Band band : run) {
                    largest = Math.abs(band.percent()) > Math.abs(largest.percent()) ? band : largest;
                }
                ranges.add(new Range(run.get(0).hz(), run.get(run.size() - 1).hz(), run.size(), largest));
                run.clear();
            }
        }
    }
}
