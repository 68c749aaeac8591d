package ohmprint.app.workspace;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.app.NamedCurve;
import ohmprint.app.library.Comparison;
import ohmprint.app.library.FindLike;
import ohmprint.app.library.LibraryConnection;
import ohmprint.app.library.Spread;
import ohmprint.library.Similarity;
import org.jspecify.annotations.Nullable;

/** Curves of a workspace beside each other and beside those of its library. */
public final class ComparisonService {
    private static final int MOST_CURVES = 6;
    private static final int MOST_LIKES = 200;

    private final LibraryConnection library;
    private final CurveRepository curves;

    ComparisonService(LibraryConnection library, CurveRepository curves) {
        this.library = library;
        this.curves = curves;
    }

    /**
     * Compares each further curve with the first.
     *
     * @param refs two to six names of curves
     * @param sameBench whether loads and input were the very same for all
     */
    public Overlay compare(List<String> refs, boolean sameBench) throws BadInputException, IOException {
        if (refs.size() < 2 || refs.size() > MOST_CURVES) {
            throw new BadInputException(
                    refs.size() + " curves are to be compared; choose two to " + MOST_CURVES + " of them");
        }
        List<NamedCurve> stored = new ArrayList<>();
        List<CurveView> views = new ArrayList<>();
        for (String ref : refs) {
            stored.add(curves.stored(ref));
            views.add(curves.view(ref));
        }
        Comparison comparison = Comparison.of(stored, sameBench);
        List<Overlay.Difference> differences = new ArrayList<>();
        for (int i = 0; i < comparison.differences().size(); i++) {
            differences.add(Overlay.Difference.of(
                    refs.get(0), refs.get(i + 1), comparison.differences().get(i)));
        }
        return new Overlay(views, differences);
    }

    /** How the units of a model differ. */
    public UnitSpread spread(@Nullable String maker, String model) throws BadInputException, IOException {
        return UnitSpread.of(Spread.of(library, maker, model));
    }

    /** The likest measurements of the library. */
    public Likes like(String ref, int most) throws BadInputException, IOException {
        if (most < 1 || most > MOST_LIKES) {
            throw new BadInputException("limit is " + most + " measurements; give 1 to " + MOST_LIKES);
        }
        String argument =
                ref.startsWith(LibraryReference.PREFIX) ? ref : curves.path(ref).toString();
        FindLike.Outcome found = FindLike.run(library, argument, most);
        return new Likes(found.label(), found.parallelWithInput(), FindLike.CAUTION, found.likes());
    }

    /**
     * Curves laid over each other, in plain values.
     *
     * @param curves the curves, the first being what the others are compared with
     * @param differences one for each further curve
     */
    public record Overlay(List<CurveView> curves, List<Difference> differences) {
        /**
         * Where one curve differs from the first.
         *
         * @param between the names of the two
         * @param label the other's microphone
         * @param assumed what was taken for granted about common errors, in words
         * @param warning that the curves are those of two microphones, or null
         * @param bandsCompared how many bands both have a value in
         * @param bandsThatDiffer how many of them differ
         * @param ranges runs of neighbouring bands that differ to the same side
         * @param frequencyHz midbands in hertz
         * @param percent difference of |Z| in percent of the first
         * @param percentLow lower end of its 95 % interval
         * @param percentHigh upper end of its 95 % interval
         * @param significant whether the band differs
         */
        public record Difference(
                List<String> between,
                String label,
                String assumed,
                @Nullable String warning,
                int bandsCompared,
                int bandsThatDiffer,
                List<Comparison.Difference.Range> ranges,
                double[] frequencyHz,
                double[] percent,
                double[] percentLow,
                double[] percentHigh,
                boolean[] significant) {
            static Difference of(String first, String other, Comparison.Difference d) {
                List<Comparison.Difference.Band> bands = d.bands();
                boolean[] differs = new boolean[bands.size()];
                for (int i = 0; i < differs.length; i++) {
                    differs[i] = bands.get(i).differs();
                }
                return new Difference(
                        List.of(first, other),
                        d.label(),
                        d.assumed(),
                        d.different(),
                        bands.size(),
                        (int) d.count(),
                        d.ranges(),
                        CurveView.each(bands, Comparison.Difference.Band::hz),
                        CurveView.each(bands, Comparison.Difference.Band::percent),
                        CurveView.each(bands, Comparison.Difference.Band::lowPercent),
                        CurveView.each(bands, Comparison.Difference.Band::highPercent),
                        differs);
            }
        }
    }

    /**
     * How the units of one model differ, in plain values.
     *
     * @param model the model
     * @param maker its maker, or null for any
     * @param units the units, newest measurement first
     * @param frequencyHz midbands in hertz, of what half of the units or more have a value for
     * @param unitsPerBand how many have a value there
     * @param low 5 % of units are below, ohms
     * @param median half of them are below, ohms
     * @param high 5 % of units are above, ohms
     * @param notes what to know about it, sentences
     * @param specificationYaml the same as a specification
     */
    public record UnitSpread(
            String model,
            @Nullable String maker,
            List<Unit> units,
            double[] frequencyHz,
            int[] unitsPerBand,
            double[] low,
            double[] median,
            double[] high,
            List<String> notes,
            String specificationYaml) {
        /**
         * One unit.
         *
         * @param id identifier of its newest measurement
         * @param label what the bench calls it
         * @param bands its curve
         */
        public record Unit(String id, String label, CurveView.Bands bands) {}

        static UnitSpread of(Spread spread) {
            List<Spread.Band> bands = spread.bands();
            return new UnitSpread(
                    spread.model(),
                    spread.maker(),
                    spread.units().stream()
                            .map(u -> new Unit(
                                    u.id(),
                                    u.label(),
                                    CurveView.Bands.of(u.measurement().curve().values())))
                            .toList(),
                    bands.stream().mapToDouble(Spread.Band::hz).toArray(),
                    bands.stream().mapToInt(Spread.Band::units).toArray(),
                    bands.stream().mapToDouble(Spread.Band::low).toArray(),
                    bands.stream().mapToDouble(Spread.Band::median).toArray(),
                    bands.stream().mapToDouble(Spread.Band::high).toArray(),
                    spread.notes(),
                    spread.specification());
        }
    }

    /**
     * What a library holds that resembles a curve, in plain values.
     *
     * @param label microphone of the curve that was asked about
     * @param parallelWithInput whether its ohms are those in parallel with the input, and so too low
     * @param caution what has to be kept in mind
     * @param likes the likest, likest first
     */
    public record Likes(String label, boolean parallelWithInput, String caution, List<Similarity> likes) {}
}
