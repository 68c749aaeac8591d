"""Z per band by maximum likelihood from what takes hold in common, with everything that makes it uncertain.

Take k holds A(f)·h_k, h_k = 1/(1 + Z·y_k). A is eliminated in each cell, Z is linear in ln f within a band.
"""
from dataclasses import dataclass

import numpy as np
from bands import midbands
from scipy import special

STEPS = 4
ENOUGH_BINS, FARTHEST, POOLED_FREEDOM = 6, 3.0, 40.0
LEAST_SNR = 10**0.6
ORIGINS = ("noise", "drift", "loads", "input", "timing")


@dataclass
class Fit:
    """Arrays over bands; budget holds standard uncertainties of |Z| by origin, covariance var R, var X, cov RX."""

    f: np.ndarray
    z: np.ndarray
    covariance: np.ndarray
    budget: dict
    magnitude_u95: np.ndarray
    phase_u95: np.ndarray
    snr_db: np.ndarray
    status: np.ndarray
    low: np.ndarray | None = None
    high: np.ndarray | None = None


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


def pooled(residual, freedom):
    """Observed over stated noise, from a band and as many neighbours as give enough degrees of freedom, and those."""
    sums = [np.concatenate([[0], np.cumsum(x)]) for x in (residual, freedom)]
    at = np.arange(len(freedom))
    first, last = at.copy(), at + 1
    for _ in at:
        few = sums[1][last] - sums[1][first] < POOLED_FREEDOM
        if not few.any():
            break
        first[few], last[few] = np.maximum(first[few] - 1, 0), np.minimum(last[few] + 1, len(at))
    r, n = sums[0][last] - sums[0][first], sums[1][last] - sums[1][first]
    return np.where(n > 0, r / np.maximum(n, 1e-9), 1), 2 * np.maximum(4, n)


def disturbances(session, kept, gain, delay):
    """Causes common to all bands: origin and a function of the fit that gives their effect on the takes."""
    takes, rows = [session.takes[k] for k in kept], np.eye(len(kept))[:, :, None]
    for row in rows:
        yield "drift", lambda fit, f, row=row: row * gain
        yield "timing", lambda fit, f, row=row: row * -2j * np.pi * f * delay
    for load in {t.conductance for t in takes if t.conductance}:
        u = np.array([[t.load_u * load if t.conductance == load else 0] for t in takes])
        yield "loads", lambda fit, f, u=u: u * fit.at * fit.h
    for place in range(len(session.input_admittance(np.ones(1))[1])):
        yield "input", lambda fit, f, place=place: -session.input_admittance(f)[1][place] * fit.at * fit.h


def coherent(session, seen, kept, per_octave, low, high, gain, delay):
    """The curve from takes with these indices. gain: standard uncertainty of ln g; delay in seconds."""
    middle, edge = midbands(per_octave, low, high)
    layout = Layout(seen, middle, edge)
    fit = Bands(seen, session.admittances(seen.f, kept), layout)
    z = fit.solve()
    scale, freedom = pooled(*fit.residuals())
    noise = fit.noise_variance() * scale
    shared = {origin: np.zeros((3, len(z))) for origin in ORIGINS}
    shared["noise"] += np.array([noise, noise, 0 * noise])
    f = seen.f[layout.cells]
    for origin, effect in disturbances(session, kept, gain, delay):
        shift = fit.shift(effect(fit, f))
        shared[origin] += np.array([shift.real**2, shift.imag**2, shift.real * shift.imag])
    covariance = sum(shared.values())

    def modulus_u(c):
        return np.sqrt(np.maximum(z.real**2 * c[0] + 2 * z.real * z.imag * c[2] + z.imag**2 * c[1], 0)) / np.abs(z)

    def expanded(u, from_noise):
        """Student's t with the effective degrees of freedom of the combined uncertainty (JCGM 100, G.4)."""
        return u * special.stdtrit(np.clip(freedom * (u / from_noise) ** 4, 1, 1e6), 0.975)

    u = modulus_u(covariance)
    # The phase is moved by what lies across Z, the modulus by what lies along it.
    var_r, var_x, cov = covariance
    phase_u = np.sqrt(z.imag**2 * var_r - 2 * z.real * z.imag * cov + z.real**2 * var_x) / np.abs(z) ** 2
    snr = fit.signal_to_noise() / scale
    good = (snr > LEAST_SNR) & (2 * np.sqrt(noise) < np.abs(z))

    def all_bands(values):
        out = np.full(values.shape[:-1] + middle.shape, np.nan, values.dtype)
        out[..., layout.filled] = np.where(good, values, np.nan)
        return out

    snr_db = np.full(len(middle), np.nan)
    snr_db[layout.filled] = 10 * np.log10(np.maximum(snr, 1e-30))
    status = np.full(len(middle), "rejected", object)
    status[np.flatnonzero(layout.filled)[good]] = "measured"
    return Fit(middle, all_bands(z), all_bands(covariance), {o: all_bands(modulus_u(c)) for o, c in shared.items()},
               all_bands(expanded(u, np.sqrt(noise))),
               all_bands(np.degrees(expanded(phase_u, np.sqrt(noise) / np.abs(z)))), snr_db, status)
