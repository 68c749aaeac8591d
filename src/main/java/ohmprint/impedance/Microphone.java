package ohmprint.impedance;

import org.jspecify.annotations.Nullable;

/**
 * The microphone as its owner describes it.
 *
 * @param label what the bench calls it; the only field that is required
 * @param maker maker, or null
 * @param model model, or null
 * @param serial serial number, or null
 * @param transducer principle: {@code moving-coil}, {@code ribbon}, {@code condenser} or {@code other}, or null
 * @param ratedImpedanceOhm rated impedance in ohms, or null
 * @param ratedMinimumLoadOhm smallest load in ohms that the maker allows, or null
 * @param notes free text, or null
 */
public record Microphone(
        String label,
        @Nullable String maker,
        @Nullable String model,
        @Nullable String serial,
        @Nullable String transducer,
        @Nullable Double ratedImpedanceOhm,
        @Nullable Double ratedMinimumLoadOhm,
        @Nullable String notes) {}
