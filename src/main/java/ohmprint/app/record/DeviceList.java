package ohmprint.app.record;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.audiodevice.FormatTrial;
import ohmprint.audiodevice.JavaSound;
import ohmprint.audiodevice.SoundException;
import ohmprint.audiodevice.SoundSystem;
import ohmprint.audiodevice.SoundSystem.DeviceFormat;
import ohmprint.audiodevice.SoundSystem.Direction;
import ohmprint.audiodevice.SoundSystem.SoundDevice;
import org.jspecify.annotations.Nullable;

/**
 * Sound devices with what they really do: each format was opened and ran for a moment.
 *
 * @param devices in the order of the system
 */
public record DeviceList(List<Device> devices) {
    private static final List<Integer> RATES = List.of(44_100, 48_000, 88_200, 96_000, 192_000);
    private static final List<Integer> CHANNELS = List.of(2, 1, 4, 8, 16, 32);

    /** Copies the list. */
    public DeviceList {
        devices = List.copyOf(devices);
    }

    /**
     * A device.
     *
     * @param name by which it is chosen
     * @param description what the system says about it
     * @param inputs formats for recording; empty when it does not record
     * @param outputs formats for playing; empty when it does not play
     */
    public record Device(String name, String description, List<Format> inputs, List<Format> outputs) {
        /** Copies the lists. */
        public Device {
            inputs = List.copyOf(inputs);
            outputs = List.copyOf(outputs);
        }
    }

    /**
     * A format that was tried.
     *
     * @param rate sample rate in hertz
     * @param channels channels
     * @param bits bits per sample; 0 when it did not open
     * @param measuredRate samples per second as measured; NaN when none came
     * @param verdict {@code verified}, {@code pace-only}, {@code converted}, {@code wrong-pace}, {@code dead} or {@code
     *     refused}
     * @param ownRate rate at which the device itself ran meanwhile, hertz, or null when the system does not tell
     */
    public record Format(
            int rate,
            int channels,
            int bits,
            double measuredRate,
            String verdict,
            @Nullable Integer ownRate) {
        /** Whether a session can be recorded with it. */
        public boolean usable() {
            return verdict.equals("verified") || verdict.equals("pace-only");
        }

        /** What came of the trial, in words. */
        public String words() {
            return switch (verdict) {
                case "verified" -> bits + " bits, verified";
                case "pace-only" ->
                    bits + " bits, opens, and the pace is right; the system does not tell the device's own rate";
                case "converted" -> "converted: the device itself runs at " + ownRate + " Hz";
                case "wrong-pace" ->
                    String.format(Locale.ROOT, "opens, but brings %.0f samples a second", measuredRate);
                case "dead" -> "opens, but no samples come";
                default -> "does not open";
            };
        }
    }

    /**
     * Tries the devices of this computer.
     *
     * @param words a part of the name of the devices that are meant, or null for all
     * @throws BadInputException if there is none
     */
    public static DeviceList of(@Nullable String words, Progress progress) throws BadInputException {
        return of(words, new JavaSound(), progress);
    }

    /** The same with other devices. */
    public static DeviceList of(@Nullable String words, SoundSystem sound, Progress progress) throws BadInputException {
        try {
            List<SoundDevice> meant = sound.devices().stream()
                    .filter(d -> words == null || d.isMeantBy(words))
                    .toList();
            if (meant.isEmpty()) {
                throw new BadInputException("no sound device is called " + words + "; there is "
                        + String.join(
                                ", ",
                                sound.devices().stream().map(SoundDevice::name).toList()));
            }
            List<Device> out = new ArrayList<>();
            for (SoundDevice device : meant) {
                progress.at("trying " + device.name(), out.size() / (double) meant.size());
                out.add(new Device(
                        device.name(),
                        device.description(),
                        device.records() ? formats(device, Direction.RECORDING, sound) : List.of(),
                        device.plays() ? formats(device, Direction.PLAYBACK, sound) : List.of()));
            }
            return new DeviceList(out);
        } catch (SoundException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private static List<Format> formats(SoundDevice device, Direction direction, SoundSystem sound)
            throws SoundException {
        Optional<DeviceFormat> own = sound.ownFormat(device.name(), direction);
        List<Integer> channels = own.map(f -> List.of(f.channels())).orElse(CHANNELS);
        List<Format> out = new ArrayList<>();
        for (int rate : RATES) {
            FormatTrial trial = FormatTrial.refused(rate, channels.get(0));
            for (int count : channels) {
                trial = sound.trial(device.name(), direction, rate, count);
                if (trial.verdict() != FormatTrial.Verdict.REFUSED) {
                    break;
                }
            }
            out.add(new Format(
                    rate,
                    trial.channels(),
                    trial.bits(),
                    trial.measuredRate(),
                    trial.verdict().name().toLowerCase(Locale.ROOT).replace('_', '-'),
                    trial.own() == null ? null : (Integer) trial.own().rate()));
        }
        return out;
    }
}
