package ohmprint.app.workspace;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.app.StoredCurve;
import ohmprint.app.library.CompareCurves;
import ohmprint.app.library.Comparison;
import ohmprint.app.library.FindLike;
import ohmprint.app.library.LibraryPlace;
import ohmprint.app.library.Spread;
import org.jspecify.annotations.Nullable;

/** Curves of a workspace beside each other and beside those of its library. */
public final class Comparing {
    private static final int MOST_CURVES = 6;
    private static final int MOST_LIKES = 200;

    private final LibraryPlace library;
    private final Curves curves;

    Comparing(LibraryPlace library, Curves curves) {
        this.library = library;
        this.curves = curves;
    }

    /**
     * Compares each further curve with the first.
     *
     * @param refs two to six names of curves
     * @param sameBench whether loads and input were the very same for all
     */
    public ComparisonView compare(List<String> refs, boolean sameBench) throws BadInputException, IOException {
        if (refs.size() < 2 || refs.size() > MOST_CURVES) {
            throw new BadInputException(
                    refs.size() + " curves are to be compared; choose two to " + MOST_CURVES + " of them");
        }
        List<StoredCurve> stored = new ArrayList<>();
        List<CurveView> views = new ArrayList<>();
        for (String ref : refs) {
            stored.add(curves.stored(ref));
            views.add(curves.view(ref));
        }
        Comparison comparison = CompareCurves.of(stored, sameBench);
        List<ComparisonView.Difference> differences = new ArrayList<>();
        for (int i = 0; i < comparison.differences().size(); i++) {
            differences.add(ComparisonView.Difference.of(
                    refs.get(0), refs.get(i + 1), comparison.differences().get(i)));
        }
        return new ComparisonView(views, differences);
    }

    /** How the units of a model differ. */
    public SpreadView spread(@Nullable String maker, String model) throws BadInputException, IOException {
        return SpreadView.of(Spread.of(library, maker, model));
    }

    /** The likest measurements of the library. */
    public LikeView like(String ref, int most) throws BadInputException, IOException {
        if (most < 1 || most > MOST_LIKES) {
            throw new BadInputException("limit is " + most + " measurements; give 1 to " + MOST_LIKES);
        }
        String argument =
                ref.startsWith(LibraryReference.PREFIX) ? ref : curves.path(ref).toString();
        return LikeView.of(FindLike.run(library, argument, most));
    }
}
