package ohmprint.app.workspace;

import java.util.List;
import ohmprint.app.record.DeviceList;

/**
 * Sound devices with what they really do.
 *
 * @param devices in the order of the system
 */
public record DevicesView(List<Device> devices) {
    /**
     * A device.
     *
     * @param name by which it is chosen
     * @param description what the system says about it
     * @param inputs formats for recording
     * @param outputs formats for playing
     */
    public record Device(String name, String description, List<Format> inputs, List<Format> outputs) {}

    /**
     * A format that was tried.
     *
     * @param sampleRate sample rate in hertz
     * @param bits bits per sample; 0 when it did not open
     * @param channels channels
     * @param usable whether a session can be recorded with it
     * @param words what came of the trial
     */
    public record Format(int sampleRate, int bits, int channels, boolean usable, String words) {
        static List<Format> of(List<DeviceList.Format> formats) {
            return formats.stream()
                    .map(f -> new Format(f.rate(), f.bits(), f.channels(), f.usable(), f.words()))
                    .toList();
        }
    }

    static DevicesView of(DeviceList list) {
        return new DevicesView(list.devices().stream()
                .map(d -> new Device(d.name(), d.description(), Format.of(d.inputs()), Format.of(d.outputs())))
                .toList());
    }
}
