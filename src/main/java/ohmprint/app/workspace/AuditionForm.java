package ohmprint.app.workspace;

/**
 * What is to be heard.
 *
 * @param take file of a take
 * @param loadOhm resistance of the input that it shall be heard through, ohms
 * @param capacitancePf capacitance across it in picofarads
 * @param whole whether the loss of level is heard too, not only the change of sound
 */
public record AuditionForm(String take, double loadOhm, double capacitancePf, boolean whole) {}
