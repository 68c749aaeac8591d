"""Z per band by maximum likelihood from what takes hold in common, with everything that makes it uncertain."""
from dataclasses import dataclass, field

import numpy as np
import shared
from bands import midbands
from likelihood import Bands, Layout
from scipy import special

POOLED_FREEDOM = 40.0
LEAST_SNR = 10**0.6
ORIGINS = ("noise", "drift", "loads", "input", "timing")


@dataclass
class Fit:
    """Arrays over bands; budget holds standard uncertainties of |Z| by origin, covariance var R, var X, cov RX.

    noise: the variance of R and of X that each band has for itself; causes: origin and change of Z of what bands share.
    """

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
    noise: np.ndarray | None = None
    causes: list = field(default_factory=list)


def pooled(residual, freedom, begin, end):
    """Observed over stated noise, from a band and as many neighbours as give enough degrees of freedom, and those.

    begin, end: cells of each band. Of a neighbour only cells count that no band between has had.
    """
    up = np.append(1, np.clip(end[1:] - np.maximum(begin[1:], end[:-1]), 0, None) / (end - begin)[1:])
    down = np.append(np.clip(np.minimum(end[:-1], begin[1:]) - begin[:-1], 0, None) / (end - begin)[:-1], 1)
    sums = [[np.concatenate([[0], np.cumsum(share * x)]) for share in (down, up)] for x in (residual, freedom)]
    at = np.arange(len(freedom))
    first, last = at.copy(), at + 1

    def total(sums, own):
        return sums[0][at] - sums[0][first] + own + sums[1][last] - sums[1][at + 1]

    for _ in at:
        few = total(sums[1], freedom) < POOLED_FREEDOM
        if not few.any():
            break
        first[few], last[few] = np.maximum(first[few] - 1, 0), np.minimum(last[few] + 1, len(at))
    r, n = total(sums[0], residual), total(sums[1], freedom)
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
    causes = list(disturbances(session, kept, gain, delay))
    seen, left = shared.fit(session, seen, kept, causes)
    fit = Bands(seen, session.admittances(seen.f, kept), layout)
    z = fit.solve()
    begin = layout.cells[layout.start]
    scale, freedom = pooled(*fit.residuals(), begin, begin + layout.size)
    noise = fit.noise_variance() * scale
    budget = {origin: np.zeros((3, len(z))) for origin in ORIGINS}
    budget["noise"] += np.array([noise, noise, 0 * noise])
    f = seen.f[layout.cells]
    mixture, origins = shared.remaining(left, [origin for origin, _ in causes])
    moves = mixture.T @ np.array([fit.shift(effect(fit, f)) for _, effect in causes])
    for origin, shift in zip(origins, moves):
        budget[origin] += np.array([shift.real**2, shift.imag**2, shift.real * shift.imag])
    covariance = sum(budget.values())

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
    return Fit(middle, all_bands(z), all_bands(covariance), {o: all_bands(modulus_u(c)) for o, c in budget.items()},
               all_bands(expanded(u, np.sqrt(noise))),
               all_bands(np.degrees(expanded(phase_u, np.sqrt(noise) / np.abs(z)))), snr_db, status, noise=all_bands(noise),
               causes=[(origin, all_bands(move)) for origin, move in zip(origins, moves) if move.any()])
