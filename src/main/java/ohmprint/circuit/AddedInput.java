package ohmprint.circuit;

import java.util.ArrayList;
import java.util.List;
import org.apache.commons.math3.complex.Complex;

/** An input with something more across it: {@code Y = Y_bare + Y_added}, whose one influence comes last and is a tolerance. */
sealed interface AddedInput extends InputImpedance permits CabledInput, PhantomFedInput {
    /** The input without it. */
    InputImpedance bare();

    /** What is added, in siemens. */
    Complex added(double hz);

    /** What one standard uncertainty of it changes, in siemens. */
    Complex addedEffect(double hz);

    /** What is uncertain about it, in words. */
    String addedInfluence();

    @Override
    default Complex admittance(double hz) {
        return bare().admittance(hz).add(added(hz));
    }

    @Override
    default boolean isKnown() {
        return bare().isKnown();
    }

    /** The influences of the bare input, then that of what is added. */
    @Override
    default List<Complex> standardEffects(double hz) {
        List<Complex> effects = new ArrayList<>(bare().standardEffects(hz));
        effects.add(addedEffect(hz));
        return List.copyOf(effects);
    }

    @Override
    default List<String> influences() {
        List<String> names = new ArrayList<>(bare().influences());
        names.add(addedInfluence());
        return List.copyOf(names);
    }

    @Override
    default boolean isTolerance(int influence) {
        return influence >= bare().influences().size() || bare().isTolerance(influence);
    }

    @Override
    default double lowestHz() {
        return bare().lowestHz();
    }

    @Override
    default double highestHz() {
        return bare().highestHz();
    }
}
