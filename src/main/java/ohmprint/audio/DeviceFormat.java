package ohmprint.audio;

/**
 * The format that a device itself runs with, behind whatever converts.
 *
 * @param device what the system calls the device behind the line, such as the source of a sound server
 * @param rate its sample rate in hertz
 * @param channels its channels
 */
public record DeviceFormat(String device, int rate, int channels) {}
