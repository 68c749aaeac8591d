package ohmprint.app.library;

import java.io.IOException;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.library.CurveSignature;
import ohmprint.library.Similarity;

/** Ranks what a library holds by likeness with a curve: what might this unknown be? */
public final class FindLike {
    /** What has to be kept in mind, in plain words. */
    public static final String CAUTION =
            "Likeness of impedance is a hint, not an identification: different microphones can"
                    + " have the same impedance, and one with a fault, another transformer setting or a cable can look like another"
                    + " model. Only what was added to this library can be found. Confirm by what can be seen and read on the"
                    + " microphone.";

    private FindLike() {}

    /**
     * The likest measurements, likest first.
     *
     * @param curve a curve as {@link CurveArgument} understands it; a measurement of the library is not compared with itself,
     *     be it named by its identifier or by the file that was added
     * @param most how many at most
     */
    public static Outcome run(LibraryConnection place, String curve, int most) throws BadInputException, IOException {
        return place.with(library -> {
            CurveArgument argument = CurveArgument.read(library, curve);
            NamedCurve asked = argument.curve();
            CurveSignature shape = CurveSignature.of(asked.measurement().curve());
            if (shape.size() < CurveSignature.FEWEST_BANDS) {
                throw new BadInputException(
                        asked.name() + " holds a value in " + shape.size() + " third octaves; likeness needs "
                                + CurveSignature.FEWEST_BANDS + " or more, measure a wider range");
            }
            return new Outcome(
                    asked.name(),
                    asked.measurement().microphone().label(),
                    asked.measurement().curve().parallelWithInput(),
                    library.likest(shape, most, argument.ownId(curve)));
        });
    }

    /**
     * What was found.
     *
     * @param name where the curve that was asked about is
     * @param label its microphone
     * @param parallelWithInput true when its ohms are those in parallel with the input, and so too low
     * @param likes the likest, likest first
     */
    public record Outcome(String name, String label, boolean parallelWithInput, List<Similarity> likes) {
        /** Copies the list. */
        public Outcome {
            likes = List.copyOf(likes);
        }
    }
}
