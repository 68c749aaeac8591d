package ohmprint.chart;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.List;
import ohmprint.text.MinusSign;
import ohmprint.text.Numbers;

/** Where axes carry labels, and what the labels say. */
final class Ticks {
    private static final double[] FINE = {1, 1.5, 2, 3, 4, 5, 7};
    private static final double[] ONE_TWO_FIVE = {1, 2, 5};
    private static final double[] ONE_THREE = {1, 3};
    private static final double[] DECADES = {1};
    private static final double[] DEGREES = {1, 2, 5, 10, 15, 30, 45, 90};
    private static final int FEWEST = 3;
    private static final double ROUNDING = 1e-9;

    private Ticks() {}

    /**
     * Labelled values of a logarithmic axis: 1-2-5 where that gives three or more and no more than fit; none of a range that is not
     * above zero or has no end.
     */
    static List<Double> logarithmic(double low, double high, int most) {
        List<Double> chosen = decades(low, high, ONE_TWO_FIVE);
        if (chosen.size() < FEWEST) {
            return decades(low, high, FINE);
        }
        if (chosen.size() > most) {
            chosen = decades(low, high, ONE_THREE);
        }
        return chosen.size() > most ? decades(low, high, DECADES) : chosen;
    }

    /** Unlabelled values of a logarithmic axis: the whole multiples of each decade. */
    static List<Double> between(double low, double high) {
        return decades(low, high, new double[] {1, 2, 3, 4, 5, 6, 7, 8, 9});
    }

    /** Multiples of the smallest step of 1-2-5 that gives no more labels than fit; none of a range that is empty or no range. */
    static List<Double> linear(double low, double high, int most) {
        if (!(high > low) || !Double.isFinite(high - low)) {
            return List.of();
        }
        double step = Math.pow(10, Math.floor(Math.log10((high - low) / most)));
        for (double factor : new double[] {1, 2, 5, 10}) {
            List<Double> values = multiples(low, high, step * factor);
            if (values.size() <= most) {
                return values;
            }
        }
        return multiples(low, high, step * 20);
    }

    /** Multiples of a step that divides the right angle, no more than fit. */
    static List<Double> degrees(double low, double high, int most) {
        for (double step : DEGREES) {
            List<Double> values = multiples(low, high, step);
            if (values.size() <= most) {
                return values;
            }
        }
        return multiples(low, high, 180);
    }

    /** {@code 20}, {@code 1.5k}, {@code 20k}, {@code 1M}. */
    static String engineering(double value) {
        if (value >= 1e6 * (1 - ROUNDING)) {
            return plain(value / 1e6) + "M";
        }
        return value >= 1e3 * (1 - ROUNDING) ? plain(value / 1e3) + "k" : plain(value);
    }

    /** {@code −30}, {@code 0.25}: six digits at most, a true minus sign, no locale. */
    static String plain(double value) {
        return MinusSign.in(Math.abs(value) < ROUNDING ? "0" : Numbers.brief(value));
    }

    /** A value with three digits, for reading: {@code 201}, {@code −8.71}, {@code 12300}. */
    static String threeDigits(double value) {
        return plain(new BigDecimal(value).round(new MathContext(3)).doubleValue());
    }

    private static List<Double> decades(double low, double high, double[] mantissas) {
        if (!(low > 0) || !Double.isFinite(high)) {
            return List.of();
        }
        List<Double> values = new ArrayList<>();
        int last = (int) Math.floor(Math.log10(high) + ROUNDING);
        for (int decade = (int) Math.floor(Math.log10(low)); decade <= last; decade++) {
            for (double mantissa : mantissas) {
                double value = mantissa * Math.pow(10, decade);
                if (value >= low * (1 - ROUNDING) && value <= high * (1 + ROUNDING)) {
                    values.add(value);
                }
            }
        }
        return values;
    }

    private static List<Double> multiples(double low, double high, double step) {
        List<Double> values = new ArrayList<>();
        long last = (long) Math.floor(high / step + ROUNDING);
        for (long i = (long) Math.ceil(low / step - ROUNDING); i <= last; i++) {
            values.add(i * step);
        }
        return values;
    }
}
