"""The likelihood of an impedance, from what takes hold in common.

Take k holds A(f)·h_k, h_k = 1/(1 + Z·y_k). A is eliminated in each cell, Z is linear in ln f within a band.
"""
import numpy as np

STEPS = 4
ENOUGH_BINS, FARTHEST = 6, 3.0


class Layout:
    """The cells of each band one after the other; bands with few bins borrow from their neighbours."""

    def __init__(self, seen, middle, edge):
        bins = np.concatenate([[0], np.cumsum(seen.count)])
        first, last = np.searchsorted(seen.f, middle / edge), np.searchsorted(seen.f, middle * edge)
        for reach in np.arange(1.1, FARTHEST + 0.1, 0.1):
            few = bins[last] - bins[first] < ENOUGH_BINS
            first[few] = np.searchsorted(seen.f, middle[few] / edge**reach)
            last[few] = np.searchsorted(seen.f, middle[few] * edge**reach)
        self.filled = (last - first >= 2)
        first, last = first[self.filled], last[self.filled]
        self.size = last - first
        self.start = np.cumsum(self.size) - self.size
        self.cells = np.repeat(first - self.start, self.size) + np.arange(self.size.sum())
        self.middle = middle[self.filled]
        self.u = np.log(seen.f[self.cells] / self.spread(self.middle))
        self.sloped = self.size >= 3

    def sum(self, values):
        return np.add.reduceat(values, self.start, axis=-1)

    def spread(self, values):
        return np.repeat(values, self.size, axis=-1)


class Bands:
    """The likelihood of cells laid out by bands."""

    def __init__(self, seen, y, layout):
        c = layout.cells
        self.layout, self.y, self.count = layout, y[:, c], seen.count[c]
        self.w = 1 / np.sqrt(seen.noise[:, c])
        self.s = seen.products[:, :, c] * self.w[:, None] * self.w[None]
        self.averages = seen.averages
        self.trace = np.einsum("kkm->m", self.s).real

    def start(self):
        """Weighted straight line 1/D = a + b·y in each cell, relative to the strongest take; b/a over the band."""
        power = np.einsum("kkm->km", self.s).real
        pivot = int(np.argmax(power.sum(axis=-1)))
        ratio = self.s[:, pivot] / power[pivot] * self.w[pivot] / self.w
        v = self.w**2 * np.abs(ratio) ** 4 * power[pivot] / self.w[pivot] ** 2
        q, y = 1 / ratio, self.y
        s, sy, syy = v.sum(0), (v * y).sum(0), (v * np.abs(y) ** 2).sum(0)
        sq, syq = (v * q).sum(0), (v * y.conj() * q).sum(0)
        slope, level = s * syq - sy.conj() * sq, syy * sq - sy * syq
        trust = 1 / (np.maximum(s * syy - np.abs(sy) ** 2, np.finfo(float).tiny) * s)
        total = self.layout.sum
        return total(trust * level.conj() * slope) / total(trust * np.abs(level) ** 2)

    def solve(self):
        """Gauss–Newton from the straight line. Sets z and what the uncertainty needs."""
        lay, sloped = self.layout, self.layout.sloped
        z, tilt = self.start(), 0
        for step in range(STEPS + 1):
            self.at = lay.spread(z) + (lay.spread(tilt) * lay.u if step else 0)
            h = 1 / (1 + self.at * self.y)
            p, g = self.w * h, -self.w * self.y * h**2
            pp, gp = (np.abs(p) ** 2).sum(0), (g.conj() * p).sum(0)
            sp = np.einsum("klm,lm->km", self.s, p)
            quadratic = (p.conj() * sp).sum(0).real
            self.cost = self.trace - quadratic / pp
            self.power = np.maximum(quadratic / pp - self.count, 0) / pp
            information = self.power * ((np.abs(g) ** 2).sum(0) - np.abs(gp) ** 2 / pp)
            drive = (g.conj() * sp).sum(0) / pp - quadratic * gp / pp**2
            g0, g1, g2 = (lay.sum(information * lay.u**i) for i in range(3))
            g0 = np.maximum(g0, np.finfo(float).tiny)
            self.sums = g0, np.where(sloped, g1, 0), np.where(sloped & (g2 > 0), g2, 1)
            if step < STEPS:
                dz, dtilt = self.resolve(drive)
                z, tilt = z + dz, tilt + dtilt
        self.z, self.p, self.g, self.pp, self.gp, self.h = z, p, g, pp, gp, h
        return z

    def resolve(self, drive):
        """Change of the value and of the slope of each band that a drive per cell makes."""
        g0, g1, g2 = self.sums
        b0, b1 = self.layout.sum(drive), np.where(g1 != 0, self.layout.sum(drive * self.layout.u), 0)
        det = g0 * g2 - g1**2
        return (g2 * b0 - g1 * b1) / det, (g0 * b1 - g1 * b0) / det

    def shift(self, effect):
        """Change of z when the takes change by a relative effect, shape (takes, cells)."""
        moved = effect * self.p
        drive = (self.g.conj() * moved).sum(0) - self.gp / self.pp * (self.p.conj() * moved).sum(0)
        return self.resolve(self.power * drive)[0]

    def noise_variance(self):
        """Variance of R and of X from noise as stated."""
        g0, g1, g2 = self.sums
        return 0.5 * g2 / (g0 * g2 - g1**2) / self.averages

    def signal_to_noise(self):
        """Power of the weakest take over its noise."""
        signal = self.layout.sum(np.abs(self.p) ** 2 * self.power)
        return (signal / self.layout.sum(self.count)).min(axis=0)

    def residuals(self):
        """What is left over in units of the stated noise, and the degrees of freedom, complex."""
        bins = self.layout.sum(self.count)
        freedom = np.maximum(bins * (len(self.y) - 1) - 1 - self.layout.sloped, 0) * min(1, self.averages)
        return self.layout.sum(self.cost) / np.maximum(bins * (len(self.y) - 1), 1) * freedom, freedom
