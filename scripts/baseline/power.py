"""|Z| from levels alone: takes of different noise. Three loads give a value, two give bounds."""
import numpy as np
from bands import midbands
from solve import LEAST_SNR, ORIGINS, Fit

ROUNDS, WITHIN, COVERAGE, LEAST_SCALE, POOLED_FREEDOM, WORST = 100, 3.841, 1.96, 0.02, 12, 0.5


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
    scatter = bands.sum((count * (relative / relative.mean(axis=0) - 1) ** 2).sum(axis=0) * count)
    gaussian = takes * (takes - 1) / (takes + 1) * bands.sum(count)
    s2 = np.maximum(scatter / gaussian, 0.02)
    variance = s2 * (takes + 1) / takes / (min(1, averages) * bins)
    return level, by_energy - by_energy.mean(axis=0), variance


def profile(level, variance, y):
    """Best |Z| of a passive source per band, its 95 % range, R and χ², by the likelihood profiled over the phase."""
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
        near = best < best.min(axis=0) + 6 * WITHIN
        step = size[1] - size[0]
        low = np.maximum(size[near.argmax(axis=0), np.arange(bands)] - step, 0)
        high = np.minimum(size[len(size) - 1 - near[::-1].argmax(axis=0), np.arange(bands)] + step, np.log(1e5))
    at, column = best.argmin(axis=0), np.arange(bands)
    inside = best < best.min(axis=0) + WITHIN
    ends = size[inside.argmax(axis=0), column], size[len(size) - 1 - inside[::-1].argmax(axis=0), column]
    magnitude = np.exp(size[at, column])
    angle = phase[total[column, at].argmin(axis=1)]
    half = np.maximum(np.exp(ends[1] + step / 2) - magnitude, magnitude - np.exp(ends[0] - step / 2))
    return magnitude, half, magnitude * np.cos(angle), best.min(axis=0)


def values(session, level, variance, scale, f, gain):
    """|Z|, R, u95 and budget of each band; causes are added one after the other."""
    y, effects = session.admittances(f, range(len(level))), session.input_admittance(f)[1]
    noise = np.broadcast_to(scale * variance, level.shape)
    drift = noise + scale * (2 * gain) ** 2
    first, noise_half, _, _ = profile(level, noise, y)
    g = np.array([[t.conductance] for t in session.takes])
    u = np.array([[t.load_u] for t in session.takes])
    everything = drift + (2 * g * first / (1 + y.real * first) * u) ** 2
    drift_half = profile(level, drift, y)[1]
    magnitude, half, resistance, _ = profile(level, everything, y)
    by_input = sum((profile(level, everything, y + e)[0] - magnitude) ** 2 for e in effects)
    u95 = np.hypot(half, COVERAGE * np.sqrt(by_input))
    beyond = lambda a, b: np.sqrt(np.maximum(a**2 - b**2, 0)) / COVERAGE
    budget = dict(zip(ORIGINS, (noise_half / COVERAGE, beyond(drift_half, noise_half), beyond(half, drift_half),
                                np.sqrt(by_input), np.zeros(len(f)))))
    return magnitude, resistance, u95, budget


def bounds(session, level, variance, f, gain):
    """Least and greatest |Z| with R ≥ 0 that the ratio of two levels allows: pure resistance and pure reactance."""
    y = np.abs(session.admittances(f, range(len(level))))
    conductance = np.array([t.conductance for t in session.takes])
    heavy = conductance == conductance.max()
    a, b = y[heavy].mean(axis=0), y[~heavy].mean(axis=0)
    ratio = level[heavy].mean(axis=0) - level[~heavy].mean(axis=0)
    tolerance = sum((2 * t.load_u) ** 2 for t in session.takes if t.conductance)
    spread = COVERAGE * np.sqrt(2 * variance + 2 * (2 * gain) ** 2 + tolerance)
    ends = []
    for shift in (spread, -spread):
        rho = np.exp(np.minimum(ratio + shift, 0))
        with np.errstate(divide="ignore", invalid="ignore"):
            root = np.sqrt(rho)
            ends += [np.where(root * a > b, (1 - root) / (root * a - b), np.inf),
                     np.where(rho * a**2 > b**2, np.sqrt((1 - rho) / (rho * a**2 - b**2)), np.inf)]
    return np.min(ends, axis=0), np.max(ends, axis=0)


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

    # Noise from a generator with an even spectrum scatters less than random noise, drift scatters more.
    y, freedom = session.admittances(f, range(len(level))), np.sum(good) * (len(level) - 3)
    def scatter(x):
        chi = profile(x, np.broadcast_to(variance + (2 * gain) ** 2, x.shape), y)[3]
        return max(LEAST_SCALE, np.sum(chi[good]) / freedom) if freedom >= POOLED_FREEDOM else 1
    scale, level = min(((scatter(x), x) for x in (level, by_energy)), key=lambda pair: pair[0])
    magnitude, resistance, u95, budget = values(session, level, variance, scale, f, gain)
    good &= u95 < WORST * magnitude
    status[np.flatnonzero(bands.filled)[good]] = "measured"
    result.budget = {origin: all_bands(u) for origin, u in budget.items()}
    result.magnitude_u95 = all_bands(u95)
    return result, all_bands(magnitude), all_bands(resistance)
