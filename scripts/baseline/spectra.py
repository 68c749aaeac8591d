"""What the takes of a session are compared by: spectra, their noise, and the delays between takes.

A take is a triple of its file, the channel of the microphone and that of the reference or None, channels from 1.
"""
import numpy as np
from scipy import fft

WORKERS = 2
SEGMENT_S = 1.3


def onset(wav, channel):
    """First sample of the sound: 20 ms blocks against the quietest of the first five."""
    block = wav.rate // 50
    x = wav.read(channel, 0, 10 * wav.rate)
    level = np.sqrt(np.mean(x[: len(x) // block * block].reshape(-1, block) ** 2, axis=1))
    loud = np.flatnonzero(level > 4 * level[:5].min() + 1e-9)
    return max(loud[0] - 1, 1) * block if len(loud) else block


def noise_density(wav, channel, end, f):
    """Power of the lead-in per sample and bin, smoothed over 9 bins, at the frequencies f."""
    x = wav.read(channel, 0, end)
    n = min(8192, len(x))
    window = np.hanning(n + 1)[:-1]
    rows = np.lib.stride_tricks.sliding_window_view(x, n)[:: n // 2]
    power = np.mean(np.abs(fft.rfft(rows * window)) ** 2, axis=0) / np.sum(window**2)
    smooth = np.convolve(np.pad(power, 4, "edge"), np.full(9, 1 / 9), "valid")
    return np.interp(f, fft.rfftfreq(n, 1 / wav.rate), smooth)


def welch(wav, channel, start, reference=None):
    """Frequencies, auto spectra and cross spectrum of a channel and a reference, and the number of segments."""
    n = 1 << int(np.ceil(np.log2(SEGMENT_S * wav.rate)))
    window = np.hanning(n + 1)[:-1]
    syy, srr, syr, count = 0, 0, 0, 0
    others = wav.segments(reference, n, start) if reference else iter(lambda: None, 0)
    for rows, other in zip(wav.segments(channel, n, start), others):
        y = fft.rfft(rows * window, workers=WORKERS)
        syy = syy + np.einsum("ij,ij->j", y.real, y.real) + np.einsum("ij,ij->j", y.imag, y.imag)
        count += len(rows)
        if reference:
            r = fft.rfft(other * window, workers=WORKERS)
            srr = srr + np.einsum("ij,ij->j", r.real, r.real) + np.einsum("ij,ij->j", r.imag, r.imag)
            syr = syr + np.einsum("ij,ij->j", y, r.conj())
    if not count:
        raise ValueError(f"{wav.path} is shorter than a segment of {n} samples")
    return fft.rfftfreq(n, 1 / wav.rate), syy, srr, syr, count, np.sum(window**2)


def by_reference(takes):
    """Transfer function from reference to microphone in each take, and its variance from the coherence."""
    ratios, variances = [], []
    for wav, channel, reference in takes:
        f, syy, srr, syr, count, _ = welch(wav, channel, onset(wav, reference), reference)
        srr = np.maximum(srr, np.finfo(float).tiny)
        ratio = syr / srr
        unexplained = np.maximum(syy / srr - np.abs(ratio) ** 2, 1e-14 * syy / srr)
        ratios.append(ratio)
        # Neighbouring bins of a Hann window are correlated, as if there were two thirds of them.
        variances.append(1.5 * unexplained / (0.947 * count))
    return f, np.array(ratios), np.array(variances)


def lag(y, pivot, band):
    """Samples by which y is later than pivot, from the whitened cross spectrum within a slice of bins."""
    cross = np.zeros_like(y)
    cross[band] = y[band] * pivot[band].conj()
    cross[band] /= np.maximum(np.abs(cross[band]), np.finfo(float).tiny)
    h = fft.irfft(cross, workers=WORKERS)
    at = int(np.argmax(h))
    return at if at < len(h) // 2 else at - len(h)


def by_alignment(takes, stimulus):
    """Spectra of the takes from the onset on, aligned to whole samples (one clock), and their noise variances."""
    signals = [wav.read(channel) for wav, channel, _ in takes]
    rate, longest = takes[0][0].rate, max(map(len, signals))
    n = fft.next_fast_len(2 * longest, real=True)
    band = slice(int(100 * n / rate), int(min(10e3, 0.4 * rate) * n / rate))
    spectra = [fft.rfft(x, n, workers=WORKERS) for x in signals]
    lags = [lag(y, spectra[0], band) for y in spectra]
    if stimulus:
        start = lag(spectra[0], fft.rfft(stimulus.read(1), n, workers=WORKERS), band) - rate // 50
    else:
        start = onset(*takes[0][:2])
    start = max(start, -min(lags), 1)
    length = min(len(x) - start - d for x, d in zip(signals, lags))
    n = fft.next_fast_len(length, real=True)
    f = fft.rfftfreq(n, 1 / rate)
    spectra = np.array([fft.rfft(x[start + d :][:length], n, workers=WORKERS) for x, d in zip(signals, lags)])
    noise = [length * noise_density(wav, c, max(start + d, rate // 50), f) for (wav, c, _), d in zip(takes, lags)]
    return f, spectra, np.maximum(noise, 1e-14 * np.mean(np.abs(spectra) ** 2, axis=1, keepdims=True))
