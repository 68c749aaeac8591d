package ohmprint.circuit.fit;

/**
 * A circuit that a microphone may have.
 *
 * @param family whose it is
 * @param words its parts in words
 * @param part the circuit
 * @param resonances how many resonances it has
 */
record Candidate(Family family, String words, Part part, int resonances) {
    /** How many of its parts chance may place at any frequency: resonances, and a second bridged inductor. */
    int anywhere() {
        return (int) part.values().stream()
                .filter(v -> v.unit().equals("Hz") || v.name().equals("second_bridged_henry"))
                .count();
    }
}
