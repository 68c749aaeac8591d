"""Errors that all bands share, told by three or more loads: gains, delays, loads and input, fitted to all cells at once.

Each is counted in its standard uncertainty, so that θ ~ N(0, 1) is what is believed of it. With the amplitude A and the
impedance Z free in every cell, a relative effect e on the takes shows only where it is orthogonal to p and ∂p/∂Z.
"""
import numpy as np
from bands import midbands
from likelihood import Bands, Layout

ROUNDS = 3
BLOCKS_PER_OCTAVE = 12


def fit(session, seen, kept, disturbances):
    """The cells without the most probable errors, and the covariance of what is left of them; None for two loads."""
    loads = {session.takes[k].conductance for k in kept}
    if len(loads) < 3:
        return seen, None
    layout = Layout(seen, *midbands(BLOCKS_PER_OCTAVE, seen.f[0], seen.f[-1]))
    once = 1 / np.bincount(layout.cells, minlength=len(seen.f))[layout.cells]
    y = session.admittances(seen.f, kept)
    theta = np.zeros(len(disturbances))
    corrected = seen
    for _ in range(ROUNDS):
        bands = Bands(corrected, y, layout)
        bands.solve()
        effects = np.array([np.broadcast_to(e(bands, seen.f[layout.cells]), bands.p.shape) for _, e in disturbances])
        score, information, noise = sums(bands, effects, once)
        factor = 2 * seen.averages / noise
        covariance = np.linalg.inv(np.eye(len(theta)) + factor * information)
        theta = theta + covariance @ (factor * score - theta)
        narrow = np.array([np.broadcast_to(e(AtCells(bands, layout, len(seen.f)), seen.f), y.shape) for _, e in disturbances])
        corrected = seen.divided(np.exp(np.tensordot(theta, narrow, axes=1)))
    return corrected, covariance


class AtCells:
    """Z and 1/(1 + Z·y) of a fit on the cells themselves, which bands may share."""

    def __init__(self, bands, layout, size):
        self.at = np.interp(np.arange(size), *unique(layout.cells, bands.at))
        y = np.zeros((len(bands.y), size), complex)
        y[:, layout.cells] = bands.y
        self.h = 1 / (1 + self.at * y)


def unique(cells, values):
    at, first = np.unique(cells, return_index=True)
    return at, values[first]


def sums(bands, effects, weight):
    """Score and information of the errors, and observed over stated noise, over all cells."""
    p = bands.p / np.sqrt(bands.pp)
    g = bands.g - p * (p.conj() * bands.g).sum(axis=0)
    g = g / np.sqrt((np.abs(g) ** 2).sum(axis=0))
    moved = effects * bands.p
    seen = moved - p * np.einsum("km,nkm->nm", p.conj(), moved)[:, None]
    seen = seen - g * np.einsum("km,nkm->nm", g.conj(), seen)[:, None]
    held = np.einsum("klm,lm->km", bands.s, p)
    score = np.einsum("nkm,km->n", seen.conj(), held * weight / np.sqrt(bands.pp)).real
    flat = (seen * np.sqrt(weight * bands.power)).reshape(len(effects), -1)
    left = bands.cost - np.einsum("km,km->m", g.conj(), np.einsum("klm,lm->km", bands.s, g)).real
    noise = (weight * left).sum() / (weight * bands.count).sum() / (len(p) - 2)
    return score, (flat @ flat.conj().T).real, noise


def remaining(covariance, origins):
    """Causes of what is left: columns that mix the errors, and the origin of each."""
    if covariance is None:
        return np.eye(len(origins)), list(origins)
    size, direction = np.linalg.eigh(covariance)
    noise = direction * np.sqrt(np.clip(size * (1 - size), 0, None))
    return np.hstack([covariance, noise]), [*origins, *["noise"] * len(origins)]
