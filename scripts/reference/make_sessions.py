#!/usr/bin/python3
"""Writes a measurement session for the benchmark: make_sessions.py KIND FOLDER [--seconds S]

KIND sweep: four takes of 6 s, 48 kHz, one channel, exponential sweep, the stimulus file beside them.
KIND noise: four takes of 300 s, 96 kHz, two channels (microphone and reference), a different noise in each take.
KIND again: four takes of 6 s, 48 kHz, one channel, the same noise in each take and no stimulus file.

The source is a moving coil: 200 Ω and 1 mH in series with 100 Ω, 0.106 H and 10.6 µF in parallel (150 Hz). Each take
hears it through a decaying room, its load in parallel with the input, and white converter noise, 24 bit. The same
arguments give the same files. truth.csv holds the impedance at 1/12-octave midbands.
"""
import argparse
from pathlib import Path

import numpy as np
from scipy import fft, signal

LOADS_OHM = (150.0, 330.0, 680.0, 1500.0)
INPUT_OHM, INPUT_FARAD = 3000.0, 470e-12
LEAD_IN_S = 0.5
TAIL_S = 0.5
SEED = 20261125


def source_impedance(f):
    """Impedance of the moving coil in ohms at f hertz, f > 0."""
    s = 2j * np.pi * f
    resonance = 1 / (1 / 100.0 + 1 / (s * 0.106103295) + s * 10.6103295e-6)
    return 200.0 + 1e-3 * s + resonance


def sweep(rate, seconds, low=20.0, high=20e3):
    """Exponential sweep of 0.3 of full scale with short fades at its ends."""
    n = round(rate * seconds)
    scale = n / rate / np.log(high / low)
    x = 0.3 * np.sin(2 * np.pi * low * scale * np.expm1(np.arange(n) / rate / scale))
    fade = round(0.01 * rate)
    ramp = np.sin(np.linspace(0, np.pi / 2, fade)) ** 2
    x[:fade] *= ramp
    x[-fade:] *= ramp[::-1]
    return x


def pink_noise(rate, seconds, rng):
    """Noise of equal power per octave from 15 Hz to 0.45 of the sample rate, rms 0.08."""
    f = fft.rfftfreq(rate, 1 / rate)
    shape = np.where((f > 15) & (f < 0.45 * rate), 1 / np.sqrt(np.maximum(f, 1)), 0)
    response = np.roll(fft.irfft(shape, rate), rate // 2) * np.hanning(rate)
    x = signal.oaconvolve(rng.standard_normal(round(rate * seconds)), response, mode="same")
    return x * (0.08 / np.sqrt(np.mean(x**2)))


def room(rate, rng, decay_s=0.15, direct_s=0.004):
    """Impulse response: a direct sound and a decaying tail."""
    t = np.arange(round(0.5 * rate)) / rate
    h = 0.02 * rng.standard_normal(len(t)) * np.exp(-6.9 * t / decay_s / 2) * np.sqrt(48000 / rate)
    h[: round(direct_s * rate)] = 0
    h[round(direct_s * rate)] = 1.0
    return h


def through(x, h, rate, load_ohm=None):
    """The signal x through the room h and, with a load in ohms, through the divider that the load makes."""
    if load_ohm is not None:
        n = 2 * rate
        f = np.maximum(np.arange(n // 2 + 1) * rate / n, 0.5)
        admittance = 1 / load_ohm + 1 / INPUT_OHM + 2j * np.pi * f * INPUT_FARAD
        h = fft.irfft(fft.rfft(h, n) / (1 + source_impedance(f) * admittance), n)
    return signal.oaconvolve(x, h)[: len(x)]


def write_wav(path, rate, channels):
    """Writes channels (arrays within ±1) as a 24-bit WAV file."""
    frames, width = len(channels[0]), 3 * len(channels)
    data = np.empty((frames, len(channels), 3), np.uint8)
    for c, x in enumerate(channels):
        if np.abs(x).max() >= 1:
            raise ValueError(f"{path} would clip")
        data[:, c] = np.round(x * 2**23).astype("<i4").view(np.uint8).reshape(-1, 4)[:, :3]
    size = frames * width
    with open(path, "wb") as out:
        out.write(b"RIFF" + (36 + size + size % 2).to_bytes(4, "little") + b"WAVEfmt " + (16).to_bytes(4, "little"))
        for value, octets in ((1, 2), (len(channels), 2), (rate, 4), (rate * width, 4), (width, 2), (24, 2)):
            out.write(value.to_bytes(octets, "little"))
        out.write(b"data" + size.to_bytes(4, "little"))
        data.tofile(out)
        out.write(b"\0" * (size % 2))


def padded(x, rate, total):
    """x after the lead-in, silence up to total samples."""
    out = np.zeros(total)
    lead = round(LEAD_IN_S * rate)
    out[lead : lead + len(x)] = x
    return out


def write_session(kind, folder, seconds):
    """Writes takes, stimulus where there is one, session.yaml and truth.csv."""
    folder.mkdir(parents=True, exist_ok=True)
    rng = np.random.default_rng(SEED)
    rate = 96000 if kind == "noise" else 48000
    total = round(rate * seconds)
    sounding = seconds - LEAD_IN_S - TAIL_S
    to_microphone, to_reference = room(rate, rng), room(rate, rng)
    stimulus = sweep(rate, sounding) if kind == "sweep" else pink_noise(rate, sounding, rng)
    if kind == "sweep":
        write_wav(folder / "stimulus.wav", rate, [stimulus])

    takes = []
    for k, load in enumerate(LOADS_OHM, start=1):
        if kind == "noise" and k > 1:
            stimulus = pink_noise(rate, sounding, rng)
        late = int(rng.integers(0, rate // 10)) if kind != "noise" else 0
        played = np.roll(padded(stimulus, rate, total), late)
        microphone = through(played, to_microphone, rate, load) + 1e-5 * rng.standard_normal(total)
        channels = [microphone]
        entry = f"  - {{file: take-{k}.wav, load_ohm: {load:g}, load_tolerance_percent: 1, channel: 1"
        if kind == "noise":
            channels.append(through(played, to_reference, rate) + 1e-5 * rng.standard_normal(total))
            entry += ", reference_channel: 2"
        write_wav(folder / f"take-{k}.wav", rate, channels)
        takes.append(entry + "}\n")

    sound = "{kind: sweep, file: stimulus.wav}" if kind == "sweep" else "{kind: noise}"
    (folder / "session.yaml").write_text(
        "version: 1\nmicrophone: {label: Bench coil 3, transducer: moving-coil}\n"
        "input: {resistance_ohm: 3000, resistance_tolerance_percent: 1, capacitance_pf: 470}\n"
        f"stimulus: {sound}\ntakes:\n" + "".join(takes), encoding="utf-8")
    midbands = 1000 * 10 ** (0.3 * (2 * np.arange(-73, 53) + 1) / 24)
    z = source_impedance(midbands)
    np.savetxt(folder / "truth.csv", np.column_stack([midbands, z.real, z.imag]), fmt="%.9g", delimiter=",",
               header="frequency_hz,resistance_ohm,reactance_ohm", comments="")


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("kind", choices=("sweep", "noise", "again"))
    arguments.add_argument("folder", type=Path)
    arguments.add_argument("--seconds", type=float, help="length of a take; default 6, for noise 300")
    given = arguments.parse_args()
    seconds = given.seconds or (300 if given.kind == "noise" else 6)
    write_session(given.kind, given.folder, seconds)


if __name__ == "__main__":
    main()
