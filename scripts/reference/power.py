"""|Z| from levels alone: takes of different noise. Three loads give a value, two give bounds."""
from dataclasses import dataclass

import numpy as np
from bands import midbands
from scipy import stats
from solve import LEAST_SNR, ORIGINS, Fit

ROUNDS, COVERAGE, LEAST_SCALE, POOLED_FREEDOM, WORST = 100, 1.959964, 0.02, 12, 0.5
# Observations that a belief about gains counts as.
WEIGHT = 3


class BandSums:
    def __init__(self, seen, middle, edge):
        first, last = np.searchsorted(seen.f, middle / edge), np.searchsorted(seen.f, middle * edge)
        self.filled = last > first
        self.first, self.size = first[self.filled], (last - first)[self.filled]
        self.cells = slice(self.first[0], last[self.filled][-1])
        self.first = self.first - self.first[0]

    def sum(self, values):
        return np.add.reduceat(values, self.first, axis=-1)

    def spread(self, values):
        return np.repeat(values, self.size, axis=-1)


def levels(power, count, bands, averages):
    """ln of the relative level of each take per band by likelihood, the same by energy, and their variance.

    Room and source are eliminated per cell: c = mean of P/m over the takes, m = mean of P/c over the cells.
    """
    takes, bins = len(power), bands.sum(count)
    level = by_energy = np.log(bands.sum(power * count))
    for _ in range(ROUNDS):
        c = np.mean(power * np.exp(-bands.spread(level)), axis=0)
        after = np.log(bands.sum(count * power / c) / bins)
        after -= after.mean(axis=0)
        change, level = np.abs(after - level + level.mean(axis=0)).max(), after
        if change < 1e-8:
            break
    relative = power * np.exp(-bands.spread(level))
    # Scatter of the takes' shares per bin, those of a Dirichlet distribution: its shape is how many powers a bin averages.
    scatter = bands.sum((count * (relative / relative.mean(axis=0) - 1) ** 2).sum(axis=0) * count) / bins
    scatter = np.maximum(scatter, 0.02 * takes * (takes - 1) / (takes + 1))
    shape = np.maximum((takes - 1) / scatter - 1 / takes, 1e-3)
    variance = (takes * shape + 1) / (takes * shape**2 * min(1, averages) * bins)
    return level, by_energy - by_energy.mean(axis=0), variance


def profile(level, variance, y, factor=COVERAGE):
    """Best Z of a passive source per band and half its range of |Z|, by the likelihood profiled over the phase.

    factor, one number or one per band: half-width of a 95 % interval over its standard uncertainty.
    """
    within = np.broadcast_to(np.square(factor), level.shape[1])
    bands = level.shape[1]
    low, high = np.zeros(bands), np.full(bands, np.log(1e5))
    phase = np.linspace(-np.pi / 2, np.pi / 2, 73)
    weight = 1 / variance[:, :, None, None]
    for _ in range(3):
        size = low + (high - low) * np.linspace(0, 1, 100)[:, None]
        z = np.exp(size).T[:, :, None] * np.exp(1j * phase)
        rest = level[:, :, None, None] + 2 * np.log(np.abs(1 + z * y[:, :, None, None]))
        total = (rest**2 * weight).sum(axis=0) - (rest * weight).sum(axis=0) ** 2 / weight.sum(axis=0)
        best = total.min(axis=2).T
        near = best < best.min(axis=0) + 6 * within
        step = size[1] - size[0]
        low = np.maximum(size[near.argmax(axis=0), np.arange(bands)] - step, 0)
        high = np.minimum(size[len(size) - 1 - near[::-1].argmax(axis=0), np.arange(bands)] + step, np.log(1e5))
    at, column = best.argmin(axis=0), np.arange(bands)
    inside = best < best.min(axis=0) + within
    ends = size[inside.argmax(axis=0), column], size[len(size) - 1 - inside[::-1].argmax(axis=0), column]
    magnitude = np.exp(size[at, column])
    angle = phase[total[column, at].argmin(axis=1)]
    half = np.maximum(np.exp(ends[1] + step / 2) - magnitude, magnitude - np.exp(ends[0] - step / 2))
    return magnitude * np.exp(1j * angle), half


@dataclass
class Scatter:
    """noise: observed over stated variance; drift: variance of a level by its gain; with their degrees of freedom."""

    noise: float
    noise_freedom: float
    drift: float
    drift_freedom: float

    def student(self, budget):
        """Student's factor for the effective degrees of freedom (Welch and Satterthwaite) of each band."""
        total = sum(u**2 for u in budget.values()) ** 2
        spread = budget["noise"] ** 4 / self.noise_freedom + budget["drift"] ** 4 / self.drift_freedom
        with np.errstate(divide="ignore", invalid="ignore"):
            return stats.t.ppf(0.975, np.clip(np.where(spread > 0, total / spread, 1e9), 1, 1e9))


def scattered(level, variance, y, gain):
    """Noise by the scatter from band to band about what all bands share, and the drift that is believed or shows itself."""
    takes, bands = level.shape
    spare, believed = takes - 3, (2 * gain) ** 2
    if spare < 1:
        return Scatter(1, np.inf, believed, np.inf)
    z = profile(level, np.broadcast_to(variance, level.shape), y)[0]
    information, drive, total = np.zeros((takes, takes)), np.zeros(takes), 0
    for b in range(bands):
        power = np.abs(1 + z[b] * y[:, b]) ** 2
        rest = level[:, b] + np.log(power)
        by = np.column_stack([np.ones(takes), np.abs(z[b]) * y[:, b].real / power, np.abs(z[b] * y[:, b]) ** 2 / power])
        left = np.linalg.qr(by, mode="complete")[0][:, 3:]
        e = left @ (left.T @ (rest - rest.mean()))
        information += left @ left.T / variance[b]
        drive += e / variance[b]
        total += e @ e / variance[b]
    value, vector = np.linalg.eigh(information)
    told = value > 1e-9 * value.sum()
    explained, rank = np.sum((vector.T @ drive)[told] ** 2 / value[told]), np.sum(told)
    freedom = bands * spare - rank
    pooled = freedom >= POOLED_FREEDOM
    noise = max(LEAST_SCALE, (total - explained) / freedom) if pooled else 1
    seen = max(0, (explained - rank * noise) / value.sum())
    both = (WEIGHT * believed + spare * seen) / (WEIGHT + spare)
    drift = (both, WEIGHT + spare) if both > believed else (believed, np.inf)
    return Scatter(noise, freedom if pooled else np.inf, *drift)


def values(session, level, variance, scatter, f):
    """|Z|, R, u95 and budget of each band; causes are added one after the other."""
    y, effects = session.admittances(f, range(len(level))), session.input_admittance(f)[1]
    noise = np.broadcast_to(scatter.noise * variance, level.shape)
    drift = noise + scatter.drift
    noise_half = profile(level, noise, y)[1]
    with_drift, drift_half = profile(level, drift, y)
    first = np.abs(with_drift)
    g = np.array([[t.conductance] for t in session.takes])
    u = np.array([[t.load_u] for t in session.takes])
    everything = drift + (2 * g * first / (1 + y.real * first) * u) ** 2
    z, half = profile(level, everything, y)
    magnitude = np.abs(z)
    by_input = sum((np.abs(profile(level, everything, y + e)[0]) - magnitude) ** 2 for e in effects)
    beyond = lambda a, b: np.sqrt(np.maximum(a**2 - b**2, 0)) / COVERAGE
    budget = dict(zip(ORIGINS, (noise_half / COVERAGE, beyond(drift_half, noise_half), beyond(half, drift_half),
                                np.sqrt(by_input), np.zeros(len(f)))))
    factor = scatter.student(budget)
    u95 = np.hypot(profile(level, everything, y, factor)[1], factor * np.sqrt(by_input))
    return magnitude, z.real, u95, budget


def bounds(session, level, variance, f, gain):
    """Least and greatest |Z| with R ≥ 0 that the ratio of two levels allows: pure resistance and pure reactance."""
    y = np.abs(session.admittances(f, range(len(level))))
    conductance = np.array([t.conductance for t in session.takes])
    heavy = conductance == conductance.max()
    a, b = y[heavy].mean(axis=0), y[~heavy].mean(axis=0)
    ratio = level[heavy].mean(axis=0) - level[~heavy].mean(axis=0)
    tolerance = sum((2 * t.load_u) ** 2 for t in session.takes if t.conductance)
    spread = COVERAGE * np.sqrt(2 * variance + 2 * (2 * gain) ** 2 + tolerance)

    def ends(shift, moved):
        rho = np.exp(np.minimum(ratio + shift, 0))
        g, h = a + moved, b + moved
        with np.errstate(divide="ignore", invalid="ignore"):
            root = np.sqrt(rho)
            both = [np.where(root * g > h, (1 - root) / (root * g - h), np.inf),
                    np.where(rho * g**2 > h**2, np.sqrt((1 - rho) / (rho * g**2 - h**2)), np.inf)]
        return np.min(both, axis=0), np.max(both, axis=0)

    low, high = ends(0, 0)
    off = [(spread, 0)] + [(0, np.minimum(b, COVERAGE * np.abs(np.real(e)))) for e in session.input_admittance(f)[1]]
    below = above = 0
    for shift, moved in off:
        one, other = ends(shift, moved), ends(-shift, -moved)
        with np.errstate(invalid="ignore"):
            below = np.hypot(below, low - np.minimum(one[0], other[0]))
            above = np.hypot(above, np.maximum(one[1], other[1]) - high)
    return np.maximum(0, low - below), high + above


def by_level(session, seen, per_octave, low, high, gain):
    """The curve of all takes of a session from their powers."""
    middle, edge = midbands(per_octave, low, high)
    bands = BandSums(seen, middle, edge)
    total = np.einsum("kkm->km", seen.products).real[:, bands.cells] / seen.count[bands.cells]
    noise = seen.noise[:, bands.cells]
    count = seen.count[bands.cells].astype(float)
    snr = (bands.sum((total - noise) * count) / bands.sum(noise * count)).min(axis=0)
    level, by_energy, variance = levels(np.maximum(total - noise, 1e-6 * total), count, bands, seen.averages)
    f = middle[bands.filled]
    good = (snr > LEAST_SNR) & (bands.sum(count) >= 3)

    def all_bands(x):
        out = np.full(len(middle), np.nan)
        out[bands.filled] = np.where(good, x, np.nan)
        return out

    status = np.full(len(middle), "rejected", object)
    snr_db = np.full(len(middle), np.nan)
    snr_db[bands.filled] = 10 * np.log10(np.maximum(snr, 1e-30))
    nothing = np.full(len(middle), np.nan)
    result = Fit(middle, nothing + 0j, np.full((3, len(middle)), np.nan), {}, nothing, nothing, snr_db, status)
    if len({t.conductance for t in session.takes}) < 3:
        least, most = bounds(session, level, variance, f, gain)
        good &= np.isfinite(most)
        result.low, result.high = all_bands(least), all_bands(most)
        status[np.flatnonzero(bands.filled)[good]] = "interval"
        return result, nothing, nothing

    # Noise from a generator with an even spectrum scatters less than random noise.
    y = session.admittances(f, range(len(level)))[:, good]
    both = [(scattered(x[:, good], variance[good], y, gain), x) for x in (level, by_energy)]
    scatter, level = min(both, key=lambda pair: pair[0].noise)
    magnitude, resistance, u95, budget = values(session, level, variance, scatter, f)
    good &= u95 < WORST * magnitude
    status[np.flatnonzero(bands.filled)[good]] = "measured"
    result.budget = {origin: all_bands(u) for origin, u in budget.items()}
    result.magnitude_u95 = all_bands(u95)
    return result, all_bands(magnitude), all_bands(resistance)
