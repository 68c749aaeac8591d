package ohmprint.estimate;

/**
 * What two loads say about |Z| when only levels are known: bounds, not a value.
 *
 * <p>With the power ratio {@code ρ = P_a/P_b = |1 + Z·G_b|²/|1 + Z·G_a|²} one equation stands against two unknowns. Of
 * all Z with R ≥ 0 that satisfy it, the purely resistive one, {@code |Z| = (1 − √ρ)/(√ρ·G_a − G_b)}, and the purely
 * reactive one, {@code √((1 − ρ)/(ρ·G_a² − G_b²))}, are the extremes (G_a > G_b); below 1/√(G_a·G_b) the resistive one is
 * the smaller, above it the larger.
 *
 * @param lowOhm lower bound of |Z| in ohms
 * @param highOhm upper bound in ohms; positive infinity when the ratio does not bound it
 */
record PowerInterval(double lowOhm, double highOhm) {
    /**
     * Bounds for one ratio.
     *
     * @param ratio ρ, between (G_b/G_a)² and 1
     * @param gA larger load conductance, siemens
     * @param gB smaller load conductance, siemens
     */
    static PowerInterval of(double ratio, double gA, double gB) {
        double root = Math.sqrt(Math.min(1, ratio));
        double resistive = root * gA > gB ? (1 - root) / (root * gA - gB) : Double.POSITIVE_INFINITY;
        double denominator = ratio * gA * gA - gB * gB;
        double reactive = denominator > 0 ? Math.sqrt(Math.max(0, 1 - ratio) / denominator) : Double.POSITIVE_INFINITY;
        return new PowerInterval(Math.min(resistive, reactive), Math.max(resistive, reactive));
    }
}
