package ohmprint.circuit.fit;

/**
 * A circuit that a microphone may have.
 *
 * @param family whose it is
 * @param words its parts in words
 * @param part the circuit
 * @param resonances how many resonances it has
 */
record Candidate(Family family, String words, Part part, int resonances) {}
