"""Whether takes with the same load, and more than two takes together, say the same."""
from dataclasses import dataclass

import numpy as np
from bands import midbands
from likelihood import Bands, Layout
from scipy import optimize

NO_SUSPICION, SMALL_MISFIT, TELLING_MISFIT, DECISIVE = 3e-4, 0.01, 0.002, 0.5


def repeats(seen, conductances, places):
    """What repeated loads tell: ln g of each repetition by take, a steady drift per take, uncertainty that remains.

    places: of the takes among all of the session, because a source drifts while takes are recorded that are left out.
    """
    found = {}
    weight = 1 / seen.noise
    for k, g in enumerate(conductances):
        first = list(conductances).index(g)
        if first < k:
            w = 1 / (1 / weight[k] + 1 / weight[first])
            cross = np.sum(w * seen.products[k, first])
            power, noise = np.sum(w * seen.products[first, first].real), np.sum(w * seen.count * seen.noise[first])
            found[k] = first, np.log(np.abs(cross) / max(power - noise, 0.1 * power))
    if not found:
        return {}, 0.0, 0.0
    distance = np.array([places[k] - places[first] for k, (first, _) in found.items()])
    ratio = np.array([r for _, r in found.values()])
    slope = np.sum(ratio * distance) / np.sum(distance**2)
    scatter = np.sqrt(np.mean((ratio - slope * distance) ** 2) / 2)
    # A random walk tied down at the repetition leaves r/2 on a take between: 1/(2√1.5) spread over three.
    return found, slope, max(scatter, 0.41 * np.sqrt(np.mean(ratio**2)))


@dataclass
class Agreement:
    """misfit: share of amplitude unexplained; suspect: place of a take or None; what would fit it instead."""

    misfit: float
    suspect: int | None = None
    without: float = np.nan
    ohm: float = np.nan
    level_db: float = np.nan
    level_explains: bool = False

    @property
    def disagrees(self):
        if self.suspect is None:
            return self.misfit > SMALL_MISFIT
        clear = self.misfit > TELLING_MISFIT and self.without < DECISIVE * self.misfit
        return clear and (not self.level_explains or abs(self.level_db) > 0.043)


def agreement(seen, y, conductances):
    """Leaves each take out in turn; the one without which the others agree best is suspected (four loads or more)."""
    cells = seen.merged(36)
    at = np.minimum(np.searchsorted(seen.f, cells.f), len(seen.f) - 1)
    y = y[:, at]
    layout = Layout(cells, *midbands(6, 50, 12e3))

    def misfit(cells, y):
        fit = Bands(cells, y, layout)
        fit.solve()
        bins = layout.sum(fit.count)
        signal = layout.sum((np.abs(fit.p) ** 2).sum(axis=0) * fit.power)
        share = (layout.sum(fit.cost) - (len(y) - 1) * bins) / np.maximum(signal, np.finfo(float).tiny)
        return np.sqrt(max(0, np.median(share)))

    everything = misfit(cells, y)
    takes = np.arange(len(y))
    if len(set(conductances)) < 4 or everything < NO_SUSPICION:
        return Agreement(everything)
    left = [misfit(cells.only(takes != k), y[takes != k]) if len(set(conductances[takes != k])) > 2 else np.inf for k in takes]
    suspect = int(np.argmin(left))
    row = (takes == suspect)[:, None]

    def with_load(log_ohm):
        return misfit(cells, y + row * (np.exp(-log_ohm) - conductances[suspect]))

    def with_level(log_gain):
        return misfit(cells.divided(np.exp(row * log_gain)), y)

    load = lowest(with_load, 0, np.log(1e6))
    level = lowest(with_level, -1.5, 1.5)
    return Agreement(everything, suspect, left[suspect], np.exp(load.x), 20 * level.x / np.log(10), level.fun < load.fun)


def lowest(function, low, high, steps=32):
    """Least value between two points: a coarse search, then Brent's method around its best."""
    grid = np.linspace(low, high, steps)
    best = grid[np.argmin([function(x) for x in grid])]
    width = grid[1] - grid[0]
    return optimize.minimize_scalar(function, bounds=(best - width, best + width), method="bounded", options={"xatol": 1e-4})
