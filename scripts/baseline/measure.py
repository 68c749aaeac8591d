#!/usr/bin/python3
"""Source impedance from a session of takes, in numpy: measure.py SESSION --out FOLDER [--route ROUTE] [--bands B]

An independent computation of the job of `ohmprint measure`, to compare speed and results with. It reads session.yaml
and the takes, and writes curve.csv. Take k hears A(f)/(1 + Z·y_k) with A unknown and y_k = 1/R_k + 1/R_in + jωC_in.
"""
import argparse
from pathlib import Path

import numpy as np
import yaml
from spectra import by_alignment, by_reference, noise_density, onset, welch
from wav import Wav

GAIN_U, GAIN_U_REFERENCE, DELAY_U_S = 0.005, 0.001, 0.2e-6
HEADER = ("frequency_hz,magnitude_ohm,phase_deg,resistance_ohm,reactance_ohm,magnitude_u95_ohm,phase_u95_deg,snr_db,"
          "status,magnitude_low_ohm,magnitude_high_ohm")


class Band:
    """Fractional-octave bands over the bins of a spectrum; sums over the bins of each band."""

    def __init__(self, per_octave, low, high, f):
        offset = 0.5 * (per_octave % 2 == 0)
        x = np.arange(-8 * per_octave, 8 * per_octave) + offset
        middle = 1000 * 10 ** (0.3 * x / per_octave)
        middle = middle[(middle >= low) & (middle <= high)]
        edge = 10 ** (0.15 / per_octave)
        first, last = np.searchsorted(f, middle / edge), np.searchsorted(f, middle * edge)
        filled = last > first
        self.middle, self.first, self.count = middle[filled], first[filled], (last - first)[filled]
        self.bins = slice(self.first[0], last[filled][-1])
        self.first = self.first - self.first[0]

    def sum(self, values):
        return np.add.reduceat(values, self.first, axis=-1)

    def spread(self, values):
        return np.repeat(values, self.count, axis=-1)


def coherent(f, d):
    """True when the takes follow the first one in most bands."""
    band = Band(3, 100, 8000, f)
    d = d[:, band.bins]
    power = band.sum(np.abs(d) ** 2)
    return np.median(np.abs(band.sum(d[1:] * d[0].conj())) ** 2 / (power[1:] * power[0])) > 0.5


def fit(f, d, variance, y, band, budget):
    """Complex Z per band by maximum likelihood with A eliminated per bin; its covariance and the SNR in dB."""
    f, d, variance, y = f[band.bins], d[:, band.bins], variance[:, band.bins], y[:, band.bins]
    w, power = 1 / variance, np.abs(d) ** 2
    # Start: weighted straight line 1/D = a + b·y in each bin, then b/a over the band.
    v, q = w * power**2, d.conj() / np.maximum(power, np.finfo(float).tiny)
    s, sy, syy = v.sum(0), (v * y).sum(0), (v * np.abs(y) ** 2).sum(0)
    sq, syq = (v * q).sum(0), (v * y.conj() * q).sum(0)
    slope, level = s * syq - sy.conj() * sq, syy * sq - sy * syq
    trust = np.abs(sq / s) ** -2.0 / np.maximum(s * syy - np.abs(sy) ** 2, np.finfo(float).tiny)
    z = band.sum(trust * level.conj() * slope) / band.sum(trust * np.abs(level) ** 2)

    u = np.log(f / band.spread(band.middle))
    curved = band.count >= 8
    tilt = np.zeros_like(z)
    for _ in range(3):
        here = band.spread(z) + band.spread(tilt) * u
        h = 1 / (1 + here * y)
        energy = (w * np.abs(h) ** 2).sum(0)
        a = (w * h.conj() * d).sum(0) / energy
        residual = d - a * h
        slope = -a * y * h**2
        slope -= h * (w * h.conj() * slope).sum(0) / energy
        gain, drive = (w * np.abs(slope) ** 2).sum(0), (w * slope.conj() * residual).sum(0)
        g0, g1, g2 = band.sum(gain), band.sum(gain * u), band.sum(gain * u**2)
        g1 = np.where(curved, g1, 0)
        g2 = np.where(curved, g2, 1)
        det = g0 * g2 - g1**2
        b0, b1 = band.sum(drive), np.where(curved, band.sum(drive * u), 0)
        z, tilt = z + (g2 * b0 - g1 * b1) / det, tilt + (g0 * b1 - g1 * b0) / det

    freedom = np.maximum(band.count * (len(d) - 1) - 1, 1)
    chi2 = band.sum((w * np.abs(residual) ** 2).sum(0)) / freedom
    spread = 0.5 * g2 / det * np.maximum(chi2, 1)
    cov = np.array([spread, spread, np.zeros_like(spread)])
    for amount, effect in budget(f, here, h):
        shift = amount * band.sum((w * slope.conj() * a * effect).sum(0)) / g0
        cov += shift.real**2, shift.imag**2, shift.real * shift.imag
    snr = 10 * np.log10((band.sum(power) / band.sum(variance)).min(0))
    return z, cov, snr


def disturbances(session, conductances, referenced):
    """Causes common to all bands: standard uncertainty and effect on the takes relative to A."""
    rows = np.eye(len(conductances))[:, :, None]
    given = session["input"]
    input_u = given.get("resistance_tolerance_percent", 0) / 100 / np.sqrt(3)
    tolerances = [take.get("load_tolerance_percent", 0) / 100 / np.sqrt(3) for take in session["takes"]]

    def budget(f, z, h):
        for row, conductance, tolerance in zip(rows, conductances, tolerances):
            yield GAIN_U_REFERENCE if referenced else GAIN_U, row * h
            yield DELAY_U_S, row * -2j * np.pi * f * h
            yield tolerance * conductance, row * -z * h**2
        yield input_u / given["resistance_ohm"], -z * h**2

    return budget


def by_power(takes, y_of, per_octave, low, high):
    """|Z| (and R) from power spectra: a parabola in y for three loads or more, an interval for two."""
    powers = []
    for wav, channel, _ in takes:
        start = onset(wav, channel)
        f, syy, _, _, count, window = welch(wav, channel, start)
        powers.append(syy / count - window * noise_density(wav, channel, start, f))
    band = Band(per_octave, low, high, f)
    p = band.sum(np.maximum(powers, 0)[:, band.bins])
    y = y_of(band.middle)
    if len(takes) == 2:
        order = np.argsort(y.real[:, 0])
        (p0, p1), (y0, y1) = p[order], np.abs(y[order])
        r = p0 / p1
        ends = np.sort([np.sqrt((r - 1) / (y1**2 - r * y0**2)), (np.sqrt(r) - 1) / (y1 - np.sqrt(r) * y0)], axis=0)
        return band, None, ends
    # Rows scaled by P: the relative errors of the powers are alike.
    parabola = solve(p, np.ones_like(p), 2 * y.real, np.abs(y) ** 2)
    size, resistance = np.sqrt(np.maximum(parabola[2] / parabola[0], 0)), parabola[1] / parabola[0]
    # No source has R above |Z|: there the best fit is a pure resistance, a straight line in 1/√P.
    line = solve(np.sqrt(p), np.ones_like(p), np.abs(y))
    pure = resistance > size
    size[pure] = resistance[pure] = (line[1] / line[0])[pure]
    return band, (size, resistance), None


def solve(scale, *columns):
    """Least squares of 1 against the columns times scale, one problem per band; one row of results per column."""
    table = (np.stack(columns, axis=-1) * scale[:, :, None]).transpose(1, 0, 2)
    return np.linalg.pinv(table).sum(axis=-1).T


def write(path, middle, columns, status, low=None, high=None):
    """curve.csv: numbers with 9 digits, an empty field for what is not known."""
    def text(values):
        return ["" if values is None or not np.isfinite(values[i]) else f"{values[i]:.9g}" for i in range(len(middle))]
    rows = zip(text(middle), *map(text, columns), status, text(low), text(high))
    path.write_text("\n".join([HEADER, *map(",".join, rows)]) + "\n", encoding="utf-8")


def choose(takes, stimulus, route):
    """The route taken, and the spectra of the takes that it compares (none for the power route)."""
    undecided = route == "auto" and not stimulus
    if route == "auto":
        route = "stimulus" if stimulus else "common"
        if all(reference for _, _, reference in takes):
            route, undecided = "reference", False
    if route == "reference":
        return route, by_reference(takes)
    if route == "power":
        return route, None
    spectra = by_alignment(takes, stimulus if route == "stimulus" else None)
    return ("power", None) if undecided and not coherent(*spectra[:2]) else (route, spectra)


def measure(folder, out, route, per_octave, low, high):
    """One session to one curve.csv. The input has to be given by numbers."""
    session = yaml.safe_load((folder / "session.yaml").read_text(encoding="utf-8"))
    takes = [(Wav(folder / t["file"]), t.get("channel", 1), t.get("reference_channel")) for t in session["takes"]]
    conductances = np.array([0 if t["load_ohm"] == "open" else 1 / t["load_ohm"] for t in session["takes"]])
    given = session["input"]
    file = session.get("stimulus", {}).get("file")
    high = min(high, 0.45 * takes[0][0].rate)

    def y_of(f):
        y_in = 1 / given["resistance_ohm"] + 2j * np.pi * f * given.get("capacitance_pf", 0) * 1e-12
        return conductances[:, None] + y_in

    route, spectra = choose(takes, Wav(folder / file) if file else None, route)
    if route == "power":
        band, values, ends = by_power(takes, y_of, per_octave or 3, low, high)
        nothing = [None] * 7
        if values is None:
            return write(out, band.middle, nothing, ["interval"] * len(band.middle), *ends)
        columns = [values[0], None, values[1], None, None, None, None]
        return write(out, band.middle, columns, ["measured"] * len(band.middle))
    f, d, variance = spectra
    band = Band(per_octave or 12, low, high, f)
    z, cov, snr = fit(f, d, variance, y_of(f), band, disturbances(session, conductances, route == "reference"))
    size = np.abs(z)
    magnitude_u = np.sqrt(z.real**2 * cov[0] + 2 * z.real * z.imag * cov[2] + z.imag**2 * cov[1]) / size
    phase_u = np.sqrt(z.imag**2 * cov[0] - 2 * z.real * z.imag * cov[2] + z.real**2 * cov[1]) / size**2
    columns = np.array([size, np.degrees(np.angle(z)), z.real, z.imag, 1.96 * magnitude_u,
                        np.degrees(1.96 * phase_u), snr])
    rejected = (snr < 10) | (columns[4] > size)
    columns[:, rejected] = np.nan
    write(out, band.middle, columns, np.where(rejected, "rejected", "measured"))


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("session", type=Path)
    arguments.add_argument("--out", type=Path, required=True)
    arguments.add_argument("--route", choices=("auto", "stimulus", "reference", "common", "power"), default="auto")
    arguments.add_argument("--bands", type=int, choices=(1, 3, 6, 12, 24))
    arguments.add_argument("--from", dest="low", type=float, default=20.0)
    arguments.add_argument("--to", dest="high", type=float, default=20e3)
    given = arguments.parse_args()
    given.out.mkdir(parents=True, exist_ok=True)
    measure(given.session, given.out / "curve.csv", given.route, given.bands, given.low, given.high)


if __name__ == "__main__":
    main()
