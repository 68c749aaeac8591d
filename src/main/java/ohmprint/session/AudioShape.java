package ohmprint.session;

/**
 * What the header of an audio file says.
 *
 * @param channels number of channels
 * @param sampleRate samples per second and channel, in hertz
 * @param frames samples per channel
 */
public record AudioShape(int channels, double sampleRate, long frames) {}
