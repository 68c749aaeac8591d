"""Where the same sound lies in several takes: whole samples by correlation, the rest by the phase."""
import numpy as np
from bands import midbands
from scipy import fft

# Prominence of a correlation peak over the rms of the correlation, from which it is believed.
FOUND = 12.0
ONE_CLOCK_S = 1e-9


def lag(y, pivot, n, rate):
    """Samples by which y is later than pivot, from spectra of length n, and how far the peak stands out."""
    band = slice(int(100 * n / rate), int(min(10e3, 0.4 * rate) * n / rate))
    cross = np.zeros_like(y)
    cross[band] = y[band] * pivot[band].conj()
    cross[band] /= np.maximum(np.abs(cross[band]), np.finfo(float).tiny)
    h = fft.irfft(cross, n)
    at = int(np.argmax(np.abs(h)))
    return at if at < n // 2 else at - n, float(abs(h[at]) / np.sqrt(np.mean(h**2)))


def minimum_phase(f, log_magnitude):
    """Phase that belongs to a magnitude on a grid uniform in ln f, by Bode's integral; constant beyond the grid."""
    step = np.log(f[-1] / f[0]) / (len(f) - 1)
    low, high = f[0] * np.exp(-step / 2), f[-1] * np.exp(step / 2)
    gap = f[None, :] ** 2 - f[:, None] ** 2 + np.eye(len(f))
    total = (np.subtract.outer(log_magnitude, log_magnitude).T * np.outer(f, f) / gap).sum(axis=1) * step
    total += np.gradient(log_magnitude, step) * step / 2
    total += (log_magnitude[-1] - log_magnitude) * 0.5 * np.log((high + f) / (high - f))
    total -= (log_magnitude[0] - log_magnitude) * 0.5 * np.log((f + low) / (f - low))
    return 2 / np.pi * total


def residual_delays(seen, pivot, rate, low, high):
    """Delay of every take behind the pivot in seconds, its standard uncertainty, and whether it is a fraction.

    The ratio of two loaded dividers is minimum phase; what its phase holds beyond that is delay. On one clock a delay is
    a whole number of samples, and one that comes close to a whole number is taken to be it.
    """
    middle, _ = midbands(12, max(low, 60), min(high, 15e3))
    wide = seen.merged(12)
    within = slice(*np.searchsorted(wide.f, (middle[0], middle[-1])))
    f, s, noise, count = wide.f[within], wide.products[:, :, within], wide.noise[:, within], wide.count[within]
    grid = np.geomspace(f[0], f[-1], len(f))
    takes = len(s)
    delays, spread, fraction = np.zeros(takes), np.zeros(takes), np.zeros(takes, bool)
    for k in set(range(takes)) - {pivot}:
        share = noise[k] * count / s[k, k].real + noise[pivot] * count / s[pivot, pivot].real
        deviation = np.sqrt(share / (2 * count * seen.averages))
        good = deviation < 0.3
        if np.sum(good) < 3:
            spread[k] = 1 / rate
            continue
        ratio = s[k, pivot]
        size = np.log(np.abs(ratio[good]) / s[pivot, pivot, good].real)
        own = np.interp(f, grid, minimum_phase(grid, np.interp(grid, f[good], size)))
        phase, w = (np.angle(ratio) - own)[good], 2 * np.pi * f[good]
        weight = 1 / deviation[good] ** 2
        trial = np.linspace(-4.6, 4.6, 1201) / rate
        tau = trial[np.argmax(np.cos(phase[:, None] + w[:, None] * trial).T @ (weight * w))]
        for _ in range(8):
            rest = np.angle(np.exp(1j * (phase + w * tau)))
            tau -= np.sum(weight * w * rest) / np.sum(weight * w**2)
        information = np.sum(weight * w**2)
        scatter = np.sqrt(max(1, np.sum(weight * rest**2) / len(w)) / information)
        mimicked = 0.2 * np.sum(weight * w * own[good]) / information
        u = np.sqrt(scatter**2 + mimicked**2 + 2e-6**2) * rate
        whole = np.rint(tau * rate)
        fraction[k] = abs(tau * rate - whole) > min(0.3, max(2.5 * u, 0.02))
        delays[k], spread[k] = (tau, u / rate) if fraction[k] else (whole / rate, ONE_CLOCK_S)
    return delays, spread, fraction
