package ohmprint.app.library;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import ohmprint.app.BadInputException;
import ohmprint.app.StoredCurve;
import ohmprint.app.library.Comparison.Difference;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;
import ohmprint.curve.Provenance.TakeOrigin;
import ohmprint.library.CurveLibrary;
import ohmprint.library.LibraryException;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.distribution.TDistribution;
import org.apache.commons.math3.special.Erf;

/** Lays curves over each other and says where they differ more than their uncertainty explains. */
public final class CompareCurves {
    /** Of the bands called different, the share that may be so by chance. */
    public static final double FALSE_SHARE = 0.05;

    /** Degrees of freedom from which Student's t counts as normal. */
    private static final double MANY = 1e4;

    private static final int MOST_CURVES = 6;

    private CompareCurves() {}

    /**
     * Compares each further curve with the first.
     *
     * @param curves measurements of the library or files, two to six
     * @param sameBench whether loads and input were the very same for all, so that their errors are common
     */
    public static Comparison run(LibraryPlace place, List<String> curves, boolean sameBench)
            throws BadInputException, IOException {
        if (curves.size() < 2 || curves.size() > MOST_CURVES) {
            throw new BadInputException("compare was given " + curves.size() + " curves; give two to " + MOST_CURVES);
        }
        boolean library = curves.stream().anyMatch(CurveArgument::namesAnEntry);
        List<StoredCurve> all = library ? place.with(open -> read(open, curves)) : readFiles(curves);
        return of(all, sameBench);
    }

    private static List<StoredCurve> read(CurveLibrary library, List<String> curves)
            throws BadInputException, IOException, LibraryException {
        List<StoredCurve> all = new ArrayList<>();
        for (String curve : curves) {
            all.add(CurveArgument.read(library, curve).curve());
        }
        return all;
    }

    private static List<StoredCurve> readFiles(List<String> curves) throws BadInputException, IOException {
        List<StoredCurve> all = new ArrayList<>();
        for (String curve : curves) {
            all.add(StoredCurve.of(curve));
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
    public static Comparison of(List<StoredCurve> all, boolean sameBench) throws BadInputException {
        Measurement first = all.get(0).measurement();
        List<Difference> differences = new ArrayList<>();
        for (StoredCurve other : all.subList(1, all.size())) {
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
        double[] p = values.stream().mapToDouble(CompareCurves::chance).toArray();
        boolean[] differs = FalseDiscovery.positive(p, FALSE_SHARE);
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
}
