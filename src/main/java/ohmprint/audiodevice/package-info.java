/**
 * Sound devices: what there is, what it really does, and playing and recording at once.
 *
 * <p>This is the only door to the sound lines of Java. {@link ohmprint.audiodevice.SoundSystem} is what the rest of the program
 * sees; {@link ohmprint.audiodevice.JavaSound} is the machine's own.
 *
 * <p>Lines promise more than they keep, so nothing is believed that was not seen. A sound server accepts any sample rate
 * and any number of channels, and converts without a word: its own format is asked for
 * ({@link ohmprint.audiodevice.SoundSystem.DeviceFormat}), and whether samples come at the pace of the rate is measured
 * ({@link ohmprint.audiodevice.FormatTrial}). A device that is unplugged, or whose server dies, gives no error but empty reads
 * for ever: half a second without samples counts as lost. A writer that comes too late has silence put in by the system,
 * a reader that comes too late loses samples; both are suspected in {@link ohmprint.audiodevice.RunReport}.
 *
 * <p>Samples are relative to full scale: an integer v of n bits is {@code v / 2^(n−1)}. Recording takes 24 bits where the
 * device has them, else 32 (of which a file of 24 bits keeps the upper ones), else 16. The delay from playing to recording
 * differs from run to run; nothing here corrects it.
 *
 * <p>The package knows nothing of files, sessions, loads or spectra.
 *
 * <p>In use:
 *
 * <pre>{@code
 * for (SoundSystem.SoundDevice device : new JavaSound().devices()) {
 *     String name = device.name();
 * }
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.audiodevice;
