package ohmprint.audiodevice;

/** A sound device cannot do what was asked; the message names the device, what happened and the next step. */
public final class SoundException extends Exception {
    private static final long serialVersionUID = 1;

    private final Reason reason;

    /** Why it cannot. */
    public enum Reason {
        /** There is no sound device at all. */
        NO_SOUND_SYSTEM,
        /** No device has the name that was given. */
        UNKNOWN_DEVICE,
        /** The device does not open with the wanted format, or something else uses it. */
        REFUSED,
        /** The device runs at another rate than asked, and the system would convert. */
        CONVERTED,
        /** The device was there and is gone. */
        LOST
    }

    /** A reason and a message for the user. */
    public SoundException(Reason reason, String message) {
        super(message);
        this.reason = reason;
    }

    /** The same with what led to it. */
    public SoundException(Reason reason, String message, Throwable cause) {
        super(message, cause);
        this.reason = reason;
    }

    /** Why. */
    public Reason reason() {
        return reason;
    }
}
