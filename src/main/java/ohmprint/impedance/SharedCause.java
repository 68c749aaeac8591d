package ohmprint.impedance;

/**
 * One cause of error that all bands of a curve share, such as the gain of one take: what one standard deviation of it does
 * to R and X of every band, in ohms. Causes are independent of each other.
 */
public final class SharedCause {
    private final String name;
    private final CauseOrigin origin;
    private final double[] resistance;
    private final double[] reactance;

    private SharedCause(String name, CauseOrigin origin, double[] resistance, double[] reactance) {
        this.name = name;
        this.origin = origin;
        this.resistance = resistance;
        this.reactance = reactance;
    }

    /**
     * A cause with its effect on each band.
     *
     * @param name what it is, in words
     * @param origin part of the budget that it belongs to
     * @param resistanceOhm change of R per standard deviation, one per band; NaN where a band holds no value
     * @param reactanceOhm change of X, likewise
     * @throws IllegalArgumentException if the lengths differ
     */
    public static SharedCause ofOhms(String name, CauseOrigin origin, double[] resistanceOhm, double[] reactanceOhm) {
        if (resistanceOhm.length != reactanceOhm.length) {
            throw new IllegalArgumentException("the cause '" + name + "' moves R of " + resistanceOhm.length
                    + " bands and X of " + reactanceOhm.length + "; give both for every band");
        }
        return new SharedCause(name, origin, resistanceOhm.clone(), reactanceOhm.clone());
    }

    /** What it is, in words. */
    public String name() {
        return name;
    }

    /** Part of the budget that it belongs to. */
    public CauseOrigin origin() {
        return origin;
    }

    /** Number of bands. */
    public int size() {
        return resistance.length;
    }

    /** Change of R of band {@code b} per standard deviation, ohms. */
    public double resistanceOhm(int b) {
        return resistance[b];
    }

    /** Change of X of band {@code b} per standard deviation, ohms. */
    public double reactanceOhm(int b) {
        return reactance[b];
    }

    /** All changes of R in ohms, a fresh array. */
    public double[] resistancesOhm() {
        return resistance.clone();
    }

    /** All changes of X in ohms, a fresh array. */
    public double[] reactancesOhm() {
        return reactance.clone();
    }
}
