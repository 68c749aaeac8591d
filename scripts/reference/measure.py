#!/usr/bin/python3
"""Source impedance from a session of takes, in numpy and scipy: measure.py SESSION [--out FOLDER] [--route ROUTE] ...

An independent computation of the job of `ohmprint measure`, to compare speed and results with: checks of every take,
SHA-256, choice of the route, alignment, maximum likelihood with the errors that all bands share and the uncertainty by
origin, findings, verdict, and the files curve.csv, curve.json, curve.s1p, curve.svg, curve.png and lines.svg, all of them
or none. Left out: takes other than WAV; how uncertain the noise of a reference channel is; line numbers in messages about session.yaml.
Exit codes: 0 done, 2 bad input, 3 the takes do not support a curve and --force is not given.
"""
import argparse
import os
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import findings
import numpy as np
import picture
import results
import shapes
from agreement import agreement, repeats
from checks import check, sha256
from manifest import read_session
from power import by_level
from routes import Routes
from solve import coherent

HIGHEST_SHARE = 0.46
# Standard uncertainty of the level between takes when nothing tells it, by route.
LEVEL_DRIFT = {"stimulus": 0.0005, "common": 0.0005, "reference": 0.0003, "power": 0.01}
LINES_HZ = (40, 100, 300, 1000, 4000, 14000)


def inspect(session):
    """Checks of the microphone channels and of the reference channels (None without one), and the SHA-256 of all files."""
    def one(take):
        channels = [take.channel] + ([take.reference] if take.reference else [])
        return (check(take.wav, channels) + [None])[:2]

    files = [t.wav.path for t in session.takes] + ([session.stimulus.path] if session.stimulus else [])
    with ThreadPoolExecutor(2) as pool:
        checks, hashes = pool.map(one, session.takes), pool.map(sha256, files)
        return *zip(*checks), list(hashes)


def solve(session, seen, per_octave, low, high):
    """The curve with |Z| and R of each band, findings, the takes left out, and whether a level is off uncorrected."""
    noticed, kept, cells = [], seen.kept, seen.cells
    believed = LEVEL_DRIFT[seen.route] if session.level_drift is None else session.level_drift
    if seen.route == "power":
        fit, magnitude, resistance = by_level(session, cells, per_octave or 3, low, high, believed)
        return fit, magnitude, resistance, noticed, kept, False
    conductances = np.array([session.takes[k].conductance for k in kept])
    repeated, slope, gain = repeats(cells, conductances, kept)
    cells = cells.divided(np.exp(slope * kept)[:, None])
    noticed += findings.of_drift(session, seen, repeated)
    drifted = False
    if len(kept) > 2:
        found = agreement(cells, session.admittances(cells.f, kept), conductances)
        noticed += findings.of_agreement(session, kept, found)
        drifted = found.disagrees and found.level_explains
        if found.disagrees and found.suspect is not None and not found.level_explains:
            others = np.arange(len(kept)) != found.suspect
            kept, cells = kept[others], cells.only(others)
    fit = coherent(session, cells, kept, per_octave or 12, low, high, max(gain, believed), seen.delay_u)
    return fit, np.abs(fit.z), fit.z.real, noticed, kept, drifted


def straight_lines(session, seen, fit):
    """Points of 1/D, scaled to 1 at no load, in a few bands that were measured."""
    bands = []
    y = session.admittances(seen.cells.f, seen.kept)
    edge = 10 ** (0.15 / 12)
    known = np.flatnonzero(np.isfinite(fit.z))
    for b in dict.fromkeys(known[np.argmin(np.abs(np.log(fit.f[known] / hz)))] for hz in LINES_HZ if len(known)):
        cells = slice(*np.searchsorted(seen.cells.f, (fit.f[b] / edge, fit.f[b] * edge)))
        h = 1 / (1 + fit.z[b] * y[:, cells])
        c = h / seen.cells.noise[:, cells]
        c /= (np.abs(h) ** 2 / seen.cells.noise[:, cells]).sum(axis=0)
        held = np.einsum("klm,lm->km", seen.cells.products[:, :, cells], c)
        if held.size:
            level = (c.conj() * held).sum(axis=0).real.sum()
            bands.append((fit.f[b], fit.z[b], y[:, cells].real.mean(axis=1), level / held.sum(axis=1)))
    return bands


def write(out, files):
    """All files or none: written beside the folder first, then moved into it."""
    out.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=out.parent) as work:
        for name, content in files.items():
            (Path(work) / name).write_bytes(content if isinstance(content, bytes) else content.encode())
        out.mkdir(exist_ok=True)
        for name in files:
            os.replace(Path(work) / name, out / name)


def measure(folder, out, route, per_octave, low, high, force):
    """One session; returns the exit code."""
    session = read_session(folder)
    highest = HIGHEST_SHARE * session.rate
    checks, references, hashes = inspect(session)
    noticed = [*findings.of_takes(session, checks, references), *findings.of_session(session, high, highest)]
    seen = Routes(session, checks, references, low, min(high, highest)).choose(route)
    fit, magnitude, resistance, more, kept, drifted = solve(session, seen, per_octave, low, high)
    noticed = sorted([*noticed, *seen.findings, *more, *findings.of_curve(fit)], key=findings.rank)
    verdict = findings.verdict(fit, noticed, drifted)
    for code, take, message in noticed:
        print(f"{code}: {take + ': ' if take else ''}{message}", file=sys.stderr)
    counts = ", ".join(f"{np.sum(fit.status == s)} {s}" for s in ("measured", "interval", "rejected") if np.any(fit.status == s))
    print(f"{session.microphone['label']}: {results.quantity(session)}\nroute    {seen.route}: {seen.reason}\n"
          f"verdict  {verdict}\nbands    {counts}")
    if verdict == "unusable" and not force:
        return 3

    table = results.columns(fit, magnitude, resistance)
    label, quantity = session.microphone["label"], results.quantity(session)
    left_out = ~np.isin(np.arange(len(session.takes)), kept)
    octaves = per_octave or (3 if seen.route == "power" else 12)
    drawing = picture.curve(table, label, quantity, seen.route, verdict, noticed)
    with ThreadPoolExecutor(1) as beside:
        png = beside.submit(shapes.png, drawing)
        files = {"curve.csv": results.csv(table),
                 "curve.json": results.document(session, seen, fit, table, verdict, noticed, left_out, hashes, octaves),
                 "curve.svg": shapes.svg(drawing)}
        if np.isfinite(fit.z).any():
            files["curve.s1p"] = results.touchstone(table, label, quantity)
            files["lines.svg"] = shapes.svg(picture.lines(straight_lines(session, seen, fit), label))
        files["curve.png"] = png.result()
    write(out, files)
    return 0


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("session", type=Path)
    arguments.add_argument("--out", type=Path, help="default SESSION/result")
    arguments.add_argument("--route", choices=("auto", "stimulus", "reference", "common", "power"), default="auto")
    arguments.add_argument("--bands", type=int, choices=(1, 3, 6, 12, 24))
    arguments.add_argument("--from", dest="low", type=float, default=20.0)
    arguments.add_argument("--to", dest="high", type=float, default=20e3)
    arguments.add_argument("--force", action="store_true", help="write an unusable result, too")
    given = arguments.parse_args()
    try:
        sys.exit(measure(given.session, given.out or given.session / "result", given.route, given.bands, given.low, given.high,
                         given.force))
    except (ValueError, OSError) as error:
        print(f"measure: {error}", file=sys.stderr)
        sys.exit(2)


if __name__ == "__main__":
    main()
