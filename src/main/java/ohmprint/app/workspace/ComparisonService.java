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
        return new Overlay(views, Comparison.of(stored, sameBench).differences());
    }

    /** How the units of a model differ. */
    public UnitSpread spread(@Nullable String maker, String model) throws BadInputException, IOException {
        Spread spread = Spread.of(library, maker, model);
        return new UnitSpread(
                spread,
                spread.units().stream()
                        .map(u -> CurveView.Bands.of(u.measurement().curve().values()))
                        .toList(),
                spread.specification());
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
     * Curves laid over each other.
     *
     * @param curves the curves, the first being what the others are compared with
     * @param differences one for each further curve
     */
    public record Overlay(List<CurveView> curves, List<Comparison.Difference> differences) {}

    /**
     * How the units of one model differ.
     *
     * @param spread the spread
     * @param curves the curve of each unit, in their order
     * @param specificationYaml the same as a specification
     */
    public record UnitSpread(Spread spread, List<CurveView.Bands> curves, String specificationYaml) {}

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
