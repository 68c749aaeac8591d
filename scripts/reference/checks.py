"""What a take shows by itself: level, offset, flat tops, standstills, where the sound lies, background, SHA-256."""
import hashlib
from dataclasses import dataclass

import numpy as np
from scipy import ndimage, signal

FLAT_DEPTHS = 5e-4 * 2.0 ** np.arange(5)
TOP_REACH = 16 * FLAT_DEPTHS[-1]
FLAT_SHARE, LEAST_FLAT_MS = 0.75, 0.4
SHORTEST_STANDSTILL, AROUND = 32, 64
BLOCK_S, LEAST_SILENCE_S, GUARD = 0.01, 0.25, 0.85
LINE_DB, LINE_REACH_HZ, LEAST_DENSITY = 15.0, 2.0, 1e-19
MOST_TOPS = 1 << 20


@dataclass
class Background:
    """Power density of the lead-in in full scale²/Hz between the hum lines, and the lines: hertz and mean square."""

    f: np.ndarray
    density: np.ndarray
    lines: list

    def at(self, f):
        """Density at f hertz; the power of a line is spread over 2 Hz to both sides of it."""
        out = np.interp(f, self.f, self.density)
        for hz, power in self.lines:
            first, last = np.searchsorted(f, (hz - LINE_REACH_HZ, hz + LINE_REACH_HZ))
            out[first:last] += power / (2 * LINE_REACH_HZ)
        return out


@dataclass
class Check:
    peak: float
    rms: float
    offset: float
    flat_ms: float
    flat_level: float
    standstills: list
    onset: int | None
    start: int
    end: int
    background: Background | None


class TopSamples:
    """The samples of one polarity near its highest one, and whether they pile up below it as flat tops do."""

    def __init__(self):
        self.top, self.kept, self.share = 0.0, np.empty(0), 1

    def add(self, x, highest):
        """Takes samples whose highest value is known."""
        self.top = max(self.top, highest)
        floor = self.top * (1 - TOP_REACH)
        if highest > floor > 0:
            self.kept = np.concatenate([self.kept[self.kept > floor], x[x > floor][:: self.share]])
            while len(self.kept) > MOST_TOPS:
                self.kept, self.share = self.kept[::2], 2 * self.share

    def flat(self):
        """Number of samples on a flat top. A sine has half as many within d as within 4d; flat tops have nearly all.

        Few repeating phases of a steady tone do, too, but then none or whole phases lie between 4d and 16d.
        """
        counts = [np.array([np.sum(self.kept >= self.top * (1 - r * d)) for d in FLAT_DEPTHS]) for r in (1, 4, 16)]
        between = counts[2] - counts[1]
        piled = (counts[0] >= 20) & (counts[0] > FLAT_SHARE * counts[1]) & (between > 0) & (between < counts[1])
        both = np.flatnonzero(piled[1:] & piled[:-1])
        return counts[0][both[0]] * self.share if len(both) else 0


def standstills(x, step, crests):
    """First index and length of runs of equal samples between moving ones, which crests of slow waves are not.

    crests: lowest and highest sample of the take so far; what stands still at them is flat tops.
    """
    changes = np.flatnonzero(x[1:] != x[:-1])
    for i in np.flatnonzero(np.diff(changes) >= SHORTEST_STANDSTILL):
        first, last = changes[i] + 1, changes[i + 1]
        if not 0.98 * crests[0] < x[first] < 0.98 * crests[1]:
            continue
        around = [x[max(0, first - AROUND) : first], x[last + 1 : last + 1 + AROUND]]
        if min(len(a) for a in around) > 1 and min(np.mean(np.abs(np.diff(a))) for a in around) >= 4 * step:
            yield first, last - first + 1


def first_sound(power, quiet=10):
    """First block that starts a stretch well above what precedes it; None without one."""
    for _ in range(2):
        limit = 4 * max(np.median(power[:quiet]), 1e-15)
        loud = ndimage.uniform_filter1d((power > limit).astype(float), 20, origin=-10) >= 0.5
        at = np.flatnonzero(loud[10:] & (power[10:] > limit)) + 10
        if not len(at) or limit * 8 > np.percentile(power, 95):
            return None
        quiet = at[0]
    return int(at[0])


def background(x, rate):
    """Density and lines of a silent stretch: a fine spectrum shows the lines, a coarser one the floor between them."""
    f, fine = signal.welch(x, rate, "blackmanharris", nperseg=min(len(x), 4 * rate))
    floor = ndimage.median_filter(fine, 61, mode="nearest") / np.log(2) + LEAST_DENSITY
    level = 10 * np.log10(fine / floor + 1e-9)
    peaks, _ = signal.find_peaks(level, height=LINE_DB, distance=5)
    peaks = peaks[(f[peaks] > 20) & (f[peaks] < 0.45 * rate)]
    left, middle, right = level[peaks - 1], level[peaks], level[peaks + 1]
    place = f[peaks] + f[1] * 0.5 * (right - left) / (2 * middle - left - right)
    around = np.clip(peaks[:, None] + np.arange(-4, 5), 0, len(f) - 1)
    power = np.maximum((fine - floor)[around].sum(axis=1), fine[peaks]) * f[1]
    lines = list(zip(place, power))

    f, density = signal.welch(x, rate, "hann", nperseg=len(x) // 3)
    near = np.zeros(len(f), bool)
    for hz, _ in lines:
        near |= np.abs(f - hz) < 2.5 * f[1]
    near[0] = True
    density = np.interp(f, f[~near], density[~near])
    # Mean over a third of an octave.
    sums = np.concatenate([[0], np.cumsum(density)])
    low = (np.arange(len(f)) * 10**-0.05).astype(int)
    high = np.minimum((np.arange(len(f)) * 10**0.05).astype(int) + 1, len(f))
    return Background(f, np.maximum((sums[high] - sums[low]) / (high - low), LEAST_DENSITY), lines)


def check(wav, channels):
    """One Check per channel of a file, read once in pieces."""
    rate = wav.rate
    block = round(BLOCK_S * rate)
    step = 2.0**-23 if wav.is_float else 2.0 ** (1 - 8 * wav.octets)
    tops = [(TopSamples(), TopSamples()) for _ in channels]
    means, squares, held = ([[] for _ in channels] for _ in range(3))
    carried, begin = [np.empty(0) for _ in channels], 0
    for chunk in wav.chunks(channels, 256 * block):
        for c, x in enumerate(chunk):
            high, low = x.max(), x.min()
            tops[c][0].add(x, high)
            if -low > tops[c][1].top * (1 - TOP_REACH):
                tops[c][1].add(-x, -low)
            rows = x[: len(x) // block * block].reshape(-1, block)
            means[c].append(rows.mean(axis=1))
            squares[c].append(np.einsum("ij,ij->i", rows, rows) / block)
            # A run that reaches the end of a piece is seen whole with the next one.
            both = np.concatenate([carried[c], x])
            crests = -tops[c][1].top, tops[c][0].top
            held[c] += [(int(begin - len(carried[c]) + at), int(n)) for at, n in standstills(both, step, crests)]
            carried[c] = both[-(AROUND + SHORTEST_STANDSTILL) :]
            if both[-1] == both[-AROUND]:
                carried[c] = both[-rate:]
        begin += len(chunk[0])
    return [summary(wav, channel, block, np.concatenate(means[c]), np.concatenate(squares[c]), tops[c], held[c])
            for c, channel in enumerate(channels)]


def summary(wav, channel, block, mean, square, tops, held):
    offset = float(np.mean(mean))
    power = square - 2 * offset * mean + offset**2
    first, after = first_sound(power), first_sound(power[::-1])
    start = 0 if first is None else first * block
    end = wav.frames if after is None else (len(power) - after) * block
    sounding = power[start // block : max(end // block, start // block + 1)]
    flat = [t.flat() for t in tops]
    flat_ms = 1000 * sum(flat) / wav.rate
    flat_level = max((t.top for t, f in zip(tops, flat) if f), default=0)
    silence = int(GUARD * start)
    enough = silence >= LEAST_SILENCE_S * wav.rate
    return Check(
        peak=max(t.top for t in tops), rms=float(np.sqrt(np.mean(sounding))), offset=offset,
        flat_ms=flat_ms if flat_ms >= LEAST_FLAT_MS else 0, flat_level=flat_level,
        standstills=sorted({h for h in held if h[0] >= start and h[0] + h[1] <= end}),
        onset=None if first is None else start, start=max(0, start - wav.rate // 10),
        end=min(wav.frames, end + int(0.4 * wav.rate)),
        background=background(wav.read(channel, 0, min(silence, 1 << 19)), wav.rate) if enough else None)


def sha256(path):
    with open(path, "rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
