package ohmprint.study;

/**
 * How well the bench is known, tolerances being rectangular.
 *
 * @param words for tables
 * @param loadPercent of each resistor
 * @param inputPercent of the input's resistance
 * @param capacitancePercent of its capacitance
 */
record Tolerance(String words, double loadPercent, double inputPercent, double capacitancePercent) {
    /** Resistors and input measured beforehand. */
    static final Tolerance MEASURED = new Tolerance("loads ± 0.02 %, input ± 0.2 %", 0.02, 0.2, 2);

    /** Resistors as bought. */
    static final Tolerance BOUGHT = new Tolerance("loads ± 1 %, input ± 5 %", 1, 5, 10);
}
