"""What the takes are compared by, along each of the four routes, summed into cells.

A noise density is in full scale²/Hz of a one-sided spectrum; N times rate/2 is the power per sample and bin of a plain
transform. Whole takes are held in memory up to LONGEST frames; the reference and power routes work in pieces.
"""
from concurrent.futures import ThreadPoolExecutor

import numpy as np
from align import FOUND, lag
from bands import observed, usable
from scipy import fft, ndimage, signal

LONGEST = 1 << 22
PIECE = 1 << 20
SEGMENT_S, GATE_S, PRE_S, FADE_SHARE = 2.7, 1.0, 0.2, 0.25
REGULARISATION = 0.03
UNKNOWN_DENSITY = 1e-14
MOST_NOISE = 0.5


def over(function, *arguments):
    """The results of a function for several takes at once."""
    with ThreadPoolExecutor(2) as pool:
        return list(pool.map(function, *arguments))


def noise_density(check, f):
    return check.background.at(f) if check.background else np.full(len(f), UNKNOWN_DENSITY)


class WholeTakes:
    """Channels of the takes and their spectra, with the lag of each behind the pivot."""

    def __init__(self, wavs, channels, checks, pivot, stimulus=None):
        self.checks, self.pivot, self.rate = checks, pivot, wavs[0].rate
        self.signals = over(lambda w, c: w.read(c, 0, LONGEST), wavs, channels)
        self.stimulus = stimulus.read(1, 0, LONGEST) if stimulus else np.empty(0)
        longest = max(map(len, self.signals))
        self.n = fft.next_fast_len(longest + max(longest, len(self.stimulus)), real=True)
        self.spectra = over(lambda x: fft.rfft(x, self.n), self.signals)
        found = over(lambda y: lag(y, self.spectra[pivot], self.n, self.rate), self.spectra)
        self.lags, prominence = np.array([f[0] for f in found]), np.array([f[1] for f in found])
        self.found = prominence > FOUND
        self.third = np.zeros(len(wavs))

    def by_stimulus(self, kept, low, high):
        """Each take divided by the stimulus, its impulse response cut out; None if the stimulus is not in the takes.

        All takes are cut alike, so what the gate loses is one factor in all of them.
        """
        rate, n = self.rate, self.n
        x = fft.rfft(self.stimulus, n)
        at, prominence = lag(self.spectra[self.pivot], x, n, rate)
        if prominence < FOUND:
            return None
        power = np.abs(x) ** 2
        local = ndimage.uniform_filter1d(power, max(3, int(10 * n / rate)))
        divisor = power + REGULARISATION * local
        used = local > 1e-6 * local.max()
        inverse = np.where(used, x.conj() / divisor, 0)
        # What the division makes of noise, over a plain division by the local mean.
        amplified = np.divide(power * local, divisor**2, out=np.ones_like(power), where=used)
        amplified = ndimage.uniform_filter1d(amplified, max(3, int(10 * n / rate)))
        m = fft.next_fast_len(int(GATE_S * rate), real=True)
        gate = np.ones(m)
        pre, fade = int(0.95 * PRE_S * rate), int(FADE_SHARE * m)
        gate[:pre] = signal.windows.hann(2 * pre)[:pre]
        gate[-fade:] = signal.windows.hann(2 * fade)[fade:]

        pace = seconds_per_neper(self.stimulus, rate)

        def cut(k):
            response = fft.irfft(self.spectra[k] * inverse, n)
            self.third[k] = third_harmonic(response, at + self.lags[k], pace, rate, low, high) if pace else 0
            first = at + self.lags[k] - int(PRE_S * rate)
            return fft.rfft(gate * response.take(np.arange(first, first + m), mode="wrap"))

        f = fft.rfftfreq(m, 1 / rate)
        bins = usable(f, low, high)
        f, d = f[bins], np.array(over(cut, kept))[:, bins]
        energy, mean = np.sum(gate**2), np.interp(f, fft.rfftfreq(n, 1 / rate), local / amplified)
        noise = [noise_density(self.checks[k], f) * rate / 2 * energy / mean for k in kept]
        return observed(f, d, np.array(noise), energy**2 / (m * np.sum(gate**4)))

    def side_by_side(self, kept, low, high, signals=None, checks=None):
        """The stretch that the takes share from before the onset on, in one piece, aligned to whole samples.

        signals, checks: other channels of the same takes and what they show, for their own noise.
        """
        rate, lags = self.rate, self.lags[kept] - self.lags[kept].min()
        starts = [self.checks[k].start for k in kept] - lags
        start = max(0, int(np.median(starts)))
        signals = [(signals or self.signals)[k] for k in kept]
        length = min(len(x) - start - d for x, d in zip(signals, lags))
        if length < rate // 2:
            return None
        n = fft.next_fast_len(length, real=True)
        f = fft.rfftfreq(n, 1 / rate)
        bins = usable(f, low, high)
        d = over(lambda x, by: fft.rfft(x[start + by :][:length], n)[bins], signals, lags)
        noise = [length * rate / 2 * noise_density((checks or self.checks)[k], f[bins]) for k in kept]
        return observed(f[bins], np.array(d), np.array(noise), length / n)


def seconds_per_neper(sweep, rate):
    """Time in which an exponential sweep grows in frequency by e, by its zero crossings; 0 for another sound."""
    crossings = np.flatnonzero(np.diff(np.signbit(sweep)))
    at = crossings[np.searchsorted(crossings, len(sweep) * np.array([0.3, 0.45, 0.6, 0.75, 0.88]))[:, None] + [0, 8]]
    grown = np.diff(np.log(8 / np.diff(at)[:, 0]))
    pace = np.diff(at.mean(axis=1)) / grown / rate
    return pace.mean() if np.all(grown > 0) and np.ptp(pace) < 0.06 * pace.mean() else 0


def third_harmonic(response, start, pace, rate, low, high):
    """Amplitude of the third harmonic over the fundamental; it lies pace·ln 3 before, what is noise is seen beside it."""
    length = int(min(0.05, 0.1 * pace) * rate)
    n = fft.next_fast_len(length, real=True)
    bins = usable(fft.rfftfreq(n, 1 / rate), low, high)
    fade = np.minimum(np.linspace(0, 10, length), 1)
    fade[-(length // 4) :] *= signal.windows.hann(length // 2)[-(length // 4) :]

    def energy(nepers):
        first = start - round(nepers * pace * rate) - length // 10
        return np.sum(np.abs(fft.rfft(fade * response.take(np.arange(first, first + length), mode="wrap"), n)[bins]) ** 2)

    third, beside = energy(np.log(3)), energy(np.log(3.5))
    return np.sqrt((third - beside) / energy(0)) if third > 4 * beside else 0


def by_reference(takes, checks, references, low, high):
    """Response of the microphone to the reference within each take, from averaged cross spectra.

    The reference's own noise, by its lead-in, is taken out of its power: it would make quiet takes too weak.

    Returns the cells, the level of each reference channel and the median coherence of each take.
    """
    rate = takes[0].wav.rate
    n = 2 * fft.next_fast_len(int(SEGMENT_S / 2 * rate))
    f = fft.rfftfreq(n, 1 / rate)
    bins = usable(f, low, high)
    window = signal.windows.hann(n, sym=False)

    def power(x):
        return np.einsum("ij,ij->j", x.real, x.real) + np.einsum("ij,ij->j", x.imag, x.imag)

    def response(take, check, reference):
        syy = srr = syr = count = 0
        for rows, others in take.wav.segments((take.channel, take.reference), n, check.start, check.end):
            y, r = fft.rfft(rows * window)[:, bins], fft.rfft(others * window)[:, bins]
            syy, srr = syy + power(y), srr + power(r)
            syr = syr + np.einsum("ij,ij->j", y, r.conj())
            count += len(rows)
        if count < 2:
            raise ValueError(f"{take.file} sounds for less than {1.5 * n / rate:.1f} s; record at least 5 s")
        srr = np.maximum(srr, np.finfo(float).tiny)
        share = np.minimum(MOST_NOISE, count * noise_density(reference, f[bins]) * rate / 2 * np.sum(window**2) / srr)
        h = syr / srr
        # Over a few bins only: notches of the room, where a segment holds what belongs to others, weigh little by this.
        unexplained = ndimage.uniform_filter1d(np.maximum(syy - np.abs(h) ** 2 * srr, 1e-14 * syy), 5)
        # Half-overlapping Hann segments are worth 0.947 of independent ones; one degree of freedom goes into h.
        noise = unexplained / srr * count / (count - 1) / (0.947 * count)
        gamma = np.median(np.abs(syr) ** 2 / np.maximum(syy * srr, np.finfo(float).tiny))
        return h / (1 - share), noise / (1 - share) ** 2, np.mean(srr * (1 - share)) / count, gamma

    h, noise, level, gamma = zip(*over(response, takes, checks, references))
    # Neighbouring bins of a Hann window are correlated: 18/35 of them count.
    return observed(f[bins], np.array(h), np.array(noise), 18 / 35), np.array(level), np.array(gamma)


def duration(take, check):
    """Samples between the places where the level, in steps of 5 ms, first and last passes half of its median."""
    step = take.wav.rate // 200
    level = []
    for piece, in take.wav.chunks((take.channel,), step * 4096, check.start, check.end):
        whole = piece[: len(piece) // step * step].reshape(-1, step)
        level.append(np.mean((whole - whole.mean()) ** 2, axis=1))
    smooth = ndimage.median_filter(np.concatenate(level), 9, mode="nearest")
    sounding = np.flatnonzero(smooth >= np.median(smooth) / 2)
    end = check.end - check.start if sounding[-1] == len(smooth) - 1 else step * (sounding[-1] + 1)
    return end - step * sounding[0]


def by_power(takes, checks, low, high):
    """Periodograms of the sounding parts, in one piece or several; only the diagonal of the cells means something.

    The energy of a piece, less the noise of its whole length, over the duration of its sound.
    """
    rate = takes[0].wav.rate
    lengths = [c.end - c.start for c in checks]
    if min(lengths) < rate:
        raise ValueError(f"a take sounds for {min(lengths) / rate:.1f} s only; record at least 5 s of noise")
    n = fft.next_fast_len(min(PIECE, max(lengths)), real=True)
    f = fft.rfftfreq(n, 1 / rate)
    bins = usable(f, low, high)

    def density(take, check, length):
        total = 0
        for piece, in take.wav.chunks((take.channel,), n, check.start, check.end):
            y = fft.rfft(piece, n)[bins]
            total = total + y.real**2 + y.imag**2
        return total * 2 / (rate * length)

    sounding = over(duration, takes, checks)
    amplitude = np.sqrt(over(density, takes, checks, sounding)).astype(complex)
    noise = np.array([noise_density(c, f[bins]) * (whole / part) for c, whole, part in zip(checks, lengths, sounding)])
    return observed(f[bins], amplitude, noise, min(sounding) / n)
