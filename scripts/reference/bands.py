"""The grid of bands, and what the takes hold in narrow cells that the bands are made of."""
from dataclasses import dataclass, replace

import numpy as np

CELLS_PER_OCTAVE = 288
# Bins beyond the outermost midbands that a fit may use, as a frequency ratio.
EDGE = 1.08


def midbands(per_octave, low, high):
    """Midbands of IEC 61260-1, base ten, between two frequencies, and the ratio of an edge to its midband."""
    x = np.arange(-8 * per_octave, 8 * per_octave) + 0.5 * (per_octave % 2 == 0)
    middle = 1000 * 10 ** (0.3 * x / per_octave)
    return middle[(middle >= low) & (middle <= high)], 10 ** (0.15 / per_octave)


def partition(f, per_octave):
    """First index of each stretch of ascending f that lies in one 1/per_octave cell; edges are those of the bands."""
    cell = np.floor(per_octave / 0.3 * np.log10(f / 1000) + 1e-9)
    return np.flatnonzero(np.diff(cell, prepend=-np.inf))


@dataclass
class Observed:
    """Takes D_k in cells: sums over the bins of a cell of D_k·D_l*, the noise variance per bin, the number of bins.

    averages: independent observations per bin; below 1 where a window or padding ties neighbouring bins together.
    """

    f: np.ndarray
    products: np.ndarray
    noise: np.ndarray
    count: np.ndarray
    averages: float

    def only(self, takes):
        return replace(self, products=self.products[np.ix_(takes, takes)], noise=self.noise[takes])

    def divided(self, gain):
        """The takes divided by complex gains, shape (takes, cells) or (takes, 1)."""
        size = np.abs(gain) ** 2
        return replace(self, products=self.products / (gain[:, None] * gain[None].conj()), noise=self.noise / size)

    def advanced(self, seconds):
        """The takes with a delay of so many seconds each taken out."""
        return self.divided(np.exp(-2j * np.pi * np.multiply.outer(seconds, self.f)))

    def merged(self, per_octave):
        """The same in wider cells."""
        first = partition(self.f, per_octave)
        count = np.add.reduceat(self.count, first)
        return Observed(np.add.reduceat(self.f * self.count, first) / count, np.add.reduceat(self.products, first, axis=-1),
                        np.add.reduceat(self.noise * self.count, first, axis=-1) / count, count, self.averages)


def usable(f, low, high):
    """The slice of ascending frequencies that a measurement from low to high hertz looks at."""
    return slice(max(1, np.searchsorted(f, low / EDGE)), np.searchsorted(f, high * EDGE))


def observed(f, d, noise, averages, per_octave=CELLS_PER_OCTAVE):
    """Cells of spectra d and noise variances, each of shape (takes, bins).

    The amplitude of a bin is free, so bins are brought to a common noise first: noisy ones then weigh little in a cell.
    """
    level = noise.mean(axis=0)
    d, noise = d / np.sqrt(level), noise / level
    first = partition(f, per_octave)
    takes = len(d)
    products = np.empty((takes, takes, len(first)), complex)
    for k in range(takes):
        for m in range(k + 1):
            products[k, m] = np.add.reduceat(d[k] * d[m].conj(), first)
            products[m, k] = products[k, m].conj()
    count = np.diff(first, append=len(f))
    return Observed(np.add.reduceat(f, first) / count, products, np.add.reduceat(noise, first, axis=-1) / count, count, averages)


def coherence(seen, pivot, per_octave=6, low=100, high=8000):
    """Median over sixth octaves of the coherence of each take with the pivot."""
    wide = seen.merged(per_octave)
    s = wide.products[:, :, (wide.f > low) & (wide.f < high)]
    own = np.einsum("kkm->km", s).real
    return np.median(np.abs(s[:, pivot]) ** 2 / np.maximum(own * own[pivot], np.finfo(float).tiny), axis=-1)
