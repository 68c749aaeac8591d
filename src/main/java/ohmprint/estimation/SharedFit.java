package ohmprint.estimation;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.TreeMap;
import java.util.stream.IntStream;
import ohmprint.estimation.Nuisance.NuisanceOffsets;
import ohmprint.estimation.Nuisance.PosteriorCauses;
import ohmprint.estimation.SharedInformation.PerBinFit;
import ohmprint.impedance.ChiSquare;
import ohmprint.impedance.Consistency;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.SharedErrors;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.CholeskyDecomposition;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.apache.commons.math3.linear.MatrixUtils;
import org.apache.commons.math3.linear.NonPositiveDefiniteMatrixException;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.jspecify.annotations.Nullable;

/**
 * What all bins together say about the nuisances, beside what was believed of them.
 *
 * <p>The nuisances θ are in units of their standard uncertainty, so that what is believed is {@code θ ~ N(0, 1)}. Their most
 * probable value minimises {@code n·Σ C_i(θ)/q + |θ|²/2}, C_i the cost of bin i with A and Z free in it (variable projection,
 * see {@link SharedInformation}), n the snapshots per bin and q the observed over the stated noise variance, which is fitted
 * along. Gauss–Newton; the covariance of θ is the inverse of {@code Λ = 1 + 2n·M/q}. Source: JCGM 100:2008 has no such case;
 * it is least squares with observations of the parameters themselves, as in A. Tarantola, Inverse Problem Theory (SIAM
 * 2005), 3.2 (from memory).
 *
 * @param amount most probable departure of each nuisance, in its standard uncertainties
 * @param covariance covariance of what is left, in the same unit; null where the bins say nothing and all stays as believed
 * @param chiSquare what a free Z in every bin leaves over, as χ² for the stated noise, with {@code |θ|²} added
 * @param freedom degrees of freedom of that
 * @param octaves the same without {@code |θ|²}, octave by octave, by the median of its blocks: what a part of the range
 *     leaves over is lost in the sum
 * @param ended whether the fit came to a finite end; false where the takes contradict what was entered so much that it did not
 */
record SharedFit(
        double[] amount,
        @Nullable RealMatrix covariance,
        double chiSquare,
        double freedom,
        List<Consistency.Octave> octaves,
        boolean ended) {
    private static final double BLOCKS_PER_OCTAVE = 12;
    private static final int LEAST_BINS = 4;
    /** A block that leaves over so many times what most of its octave does is disturbed. */
    private static final double DISTURBED = 10;
    /** Blocks of an octave that most can be said of. */
    private static final int LEAST_COMPARED = 3;

    private static final int ROUNDS = 6;
    private static final int NOISE_ROUNDS = 8;
    private static final double CONVERGED = 1e-3;
    private static final double LEAST_SCALE = 1e-12;
    /** Information beside which what is believed still shows in the last digits: takes without noise would tell no more. */
    private static final double MOST_TOLD = 1e9;
    /** Share of a belief's variance that the bins have to take away for its direction to count as told. */
    private static final double TOLD = 0.05;

    /** Nothing is known beyond what was believed. */
    static SharedFit asBelieved(int nuisances) {
        return new SharedFit(new double[nuisances], null, 0, 0, List.of(), true);
    }

    /**
     * Whether the nuisances are fitted: where that is wanted, there is something to fit, and takes to fit it to: three or
     * more. Two different loads are enough if one of them is repeated, because its takes tell their gains and delays apart.
     */
    static boolean isMade(SharedErrors shared, LoadedTakes takes, List<Nuisance> nuisances) {
        return shared == SharedErrors.FITTED && !nuisances.isEmpty() && takes.size() > 2;
    }

    /**
     * Fits the nuisances.
     *
     * @param obs what the takes hold
     * @param takes what each was said to drive
     * @param nuisances what may depart from what was entered
     */
    static SharedFit of(BinObservations obs, LoadedTakes takes, List<Nuisance> nuisances) {
        int n = nuisances.size();
        List<int[]> blocks = blocks(obs);
        double[] at = new double[n];
        SharedFit best = asBelieved(n);
        for (int round = 0; round < ROUNDS; round++) {
            List<SharedInformation> parts = gather(obs, takes, nuisances, at, blocks);
            if (round == 0) {
                boolean[] disturbed = disturbed(parts, blocks, obs);
                parts = without(disturbed, parts);
                blocks = without(disturbed, blocks);
            }
            SharedInformation sum = total(parts, takes, nuisances);
            if (!(sum.freedom > 0)) {
                return asBelieved(n);
            }
            Step step = step(sum, obs, at);
            double left = 2 * obs.averages() * sum.residual + square(at);
            if (step == null || !isFinite(step) || !Double.isFinite(left)) {
                return new SharedFit(best.amount, best.covariance, best.chiSquare, best.freedom, best.octaves, false);
            }
            best = new SharedFit(
                    step.to(),
                    step.covariance(),
                    left,
                    2 * obs.averages() * sum.freedom,
                    octaves(parts, blocks, obs),
                    true);
            double moved = step.length();
            at = step.to();
            if (moved < CONVERGED) {
                break;
            }
        }
        return best;
    }

    /**
     * Covariance that a fit will leave, in units of what is believed.
     *
     * @param sum what the bins are expected to hold, for the noise as stated, one snapshot each
     */
    static RealMatrix expectedCovariance(SharedInformation sum) {
        double factor = Math.min(2, MOST_TOLD / largest(sum.information));
        return new CholeskyDecomposition(sum.precision(factor), 1e-9, 0)
                .getSolver()
                .getInverse();
    }

    /** What all takes leave over, with what the departures cost; null where nothing was fitted. */
    @Nullable
    ChiSquare leftOver() {
        return freedom > 0 ? new ChiSquare(chiSquare, freedom) : null;
    }

    /**
     * How far the departures are from what was believed. If that is right, they have the covariance 1 − P, P being what is left;
     * so {@code θᵀ·(1 − P)⁻¹·θ}, over the directions in which the bins tell something, has the χ² distribution.
     */
    @Nullable
    ChiSquare departed() {
        if (covariance == null) {
            return null;
        }
        EigenDecomposition eigen = PosteriorCauses.eigen(covariance);
        RealVector departure = new ArrayRealVector(amount);
        double sum = 0;
        int directions = 0;
        for (int e = 0; e < amount.length; e++) {
            double told = 1 - eigen.getRealEigenvalue(e);
            if (told > TOLD) {
                double along = eigen.getEigenvector(e).dotProduct(departure);
                sum += along * along / told;
                directions++;
            }
        }
        return directions == 0 ? null : new ChiSquare(sum, directions);
    }

    /** The departures as something that can be applied to takes. */
    NuisanceOffsets departures(List<Nuisance> nuisances, int takes) {
        return NuisanceOffsets.of(nuisances, amount, takes);
    }

    private record Step(double[] to, RealMatrix covariance, double length) {}

    /** The minimum of the quadratic that the sums describe; the noise factor is that which the step itself will leave. */
    private static @Nullable Step step(SharedInformation sum, BinObservations obs, double[] at) {
        RealVector here = new ArrayRealVector(at);
        RealVector score = new ArrayRealVector(sum.score);
        RealMatrix information = sum.precision(1).subtract(MatrixUtils.createRealIdentityMatrix(at.length));
        boolean weighted = obs.isNoiseOnAverage();
        double scale = weighted ? sum.weightedResidual / sum.weightedFreedom : sum.residual / sum.freedom;
        double least = Math.max(LEAST_SCALE, 2 * obs.averages() * largest(sum.information) / MOST_TOLD);
        RealMatrix covariance = null;
        RealVector move = new ArrayRealVector(at.length);
        RealMatrix precision = null;
        for (int i = 0; i < NOISE_ROUNDS; i++) {
            double factor = 2 * obs.averages() / Math.max(least, scale);
            precision = sum.precision(factor);
            try {
                covariance = new CholeskyDecomposition(precision, 1e-9, 0)
                        .getSolver()
                        .getInverse();
            } catch (NonPositiveDefiniteMatrixException e) {
                return null;
            }
            move = covariance.operate(score.mapMultiply(factor).subtract(here));
            if (weighted) {
                break;
            }
            double left = sum.residual - 2 * move.dotProduct(score) + move.dotProduct(information.operate(move));
            double next = Math.max(least, left / sum.freedom);
            boolean settled = Math.abs(next - scale) < 1e-3 * scale;
            scale = next;
            if (settled) {
                break;
            }
        }
        return covariance == null || precision == null
                ? null
                : new Step(here.add(move).toArray(), covariance, Math.sqrt(move.dotProduct(precision.operate(move))));
    }

    /** The largest entry of a diagonal. */
    private static double largest(double[][] matrix) {
        return IntStream.range(0, matrix.length)
                .mapToDouble(i -> matrix[i][i])
                .max()
                .orElse(0);
    }

    private static boolean isFinite(Step step) {
        return Double.isFinite(step.length())
                && Arrays.stream(step.to()).allMatch(Double::isFinite)
                && Arrays.stream(step.covariance().getData())
                        .flatMapToDouble(Arrays::stream)
                        .allMatch(Double::isFinite);
    }

    /**
     * Blocks that leave over far more than most others of their octave: hum, or another disturbance of a few bins. It says
     * nothing about what all bands share, but as all bins have one noise scale it would move the levels of all takes. A wrong
     * load or level leaves as much over in the neighbouring blocks.
     */
    private static boolean[] disturbed(List<SharedInformation> parts, List<int[]> blocks, BinObservations obs) {
        TreeMap<Integer, List<SharedInformation>> all = byOctave(parts, blocks, obs);
        boolean[] out = new boolean[parts.size()];
        for (int b = 0; b < out.length; b++) {
            double[] ratios = ratios(all.getOrDefault(octave(blocks.get(b), obs), List.of()), obs);
            double usual = ratios.length == 0 ? 1 : Math.max(1, ratios[ratios.length / 2]);
            out[b] = ratios.length >= LEAST_COMPARED && ratio(parts.get(b), obs) > DISTURBED * usual;
        }
        return out;
    }

    /** Blocks by their octave about 1 kHz; those that could not be fitted are passed over. */
    private static TreeMap<Integer, List<SharedInformation>> byOctave(
            List<SharedInformation> parts, List<int[]> blocks, BinObservations obs) {
        TreeMap<Integer, List<SharedInformation>> all = new TreeMap<>();
        for (int b = 0; b < parts.size(); b++) {
            if (Double.isFinite(ratio(parts.get(b), obs))) {
                all.computeIfAbsent(octave(blocks.get(b), obs), o -> new ArrayList<>())
                        .add(parts.get(b));
            }
        }
        return all;
    }

    private static double[] ratios(List<SharedInformation> parts, BinObservations obs) {
        return parts.stream().mapToDouble(p -> ratio(p, obs)).sorted().toArray();
    }

    private static <T> List<T> without(boolean[] left, List<T> all) {
        return IntStream.range(0, left.length)
                .filter(i -> !left[i])
                .mapToObj(all::get)
                .toList();
    }

    private static SharedInformation total(List<SharedInformation> parts, LoadedTakes takes, List<Nuisance> nuisances) {
        SharedInformation sum = new SharedInformation(takes.size(), nuisances);
        parts.forEach(sum::add);
        return sum;
    }

    private static int octave(int[] block, BinObservations obs) {
        return FrequencyBands.octave(Math.sqrt(obs.hz(block[0]) * obs.hz(block[1] - 1)));
    }

    private static double ratio(SharedInformation sum, BinObservations obs) {
        return obs.isNoiseOnAverage() ? sum.weightedResidual / sum.weightedFreedom : sum.residual / sum.freedom;
    }

    /**
     * What the blocks leave over, octave by octave about 1 kHz: the median of the blocks, so that a line of hum does not speak
     * for its octave.
     */
    private static List<Consistency.Octave> octaves(
            List<SharedInformation> parts, List<int[]> blocks, BinObservations obs) {
        List<Consistency.Octave> out = new ArrayList<>();
        byOctave(parts, blocks, obs).forEach((octave, of) -> {
            double[] ratios = ratios(of, obs);
            double freedom =
                    2 * obs.averages() * of.stream().mapToDouble(p -> p.freedom).sum();
            double middle = (ratios[ratios.length / 2] + ratios[(ratios.length - 1) / 2]) / 2;
            out.add(new Consistency.Octave(
                    FrequencyBands.octaveMidband(octave), new ChiSquare(freedom * middle, freedom)));
        });
        return out;
    }

    private static List<SharedInformation> gather(
            BinObservations obs, LoadedTakes takes, List<Nuisance> nuisances, double[] at, List<int[]> blocks) {
        NuisanceOffsets departures = NuisanceOffsets.of(nuisances, at, takes.size());
        BinObservations corrected = departures.corrected(obs);
        IntStream all = IntStream.range(0, blocks.size());
        return (blocks.size() > 1 ? all.parallel() : all)
                .mapToObj(b -> {
                    SharedInformation sum = new SharedInformation(takes.size(), nuisances);
                    int[] block = blocks.get(b);
                    double hz = Math.sqrt(obs.hz(block[0]) * obs.hz(block[1] - 1));
                    new PerBinFit(corrected, new DividerPoint(takes, departures), takes)
                            .addTo(sum, block[0], block[1], hz);
                    return sum;
                })
                .toList();
    }

    /** Runs of bins that hold a twelfth of an octave, or as many bins as a fit needs. */
    private static List<int[]> blocks(BinObservations obs) {
        List<int[]> out = new ArrayList<>();
        double width = Math.pow(2, 1 / BLOCKS_PER_OCTAVE);
        int from = 0;
        for (int i = 1; i <= obs.size(); i++) {
            boolean wide = i == obs.size() || obs.hz(i) > width * obs.hz(from);
            if (wide && i - from >= LEAST_BINS) {
                out.add(new int[] {from, i});
                from = i;
            }
        }
        return out;
    }

    private static double square(double[] v) {
        return Arrays.stream(v).map(x -> x * x).sum();
    }
}
