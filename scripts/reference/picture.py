"""What the pictures show: the curve with its 95 % band, and 1/D against load admittance. Each is a list of shapes."""
import textwrap

import numpy as np
from shapes import INK, Circle, Area, Curve, Frame, Line, Square, Text

LEFT, RIGHT, SIDE = 80, 820, 850
COLOUR, BAND, GRID = "#0072b2", "#a6cfe6", "#d8d8d8"
DECADES = (20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000)
SERIES = ("#0072b2", "#d55e00", "#009e73", "#cc79a7", "#e69f00", "#56b4e9")


class Axes:
    """A frame with linear or logarithmic axes; collects shapes."""

    def __init__(self, x_range, y_range, box, log_x=False, log_y=False):
        self.box, self.log_x, self.log_y, self.parts = box, log_x, log_y, []
        self.x_range, self.y_range = x_range, y_range

    def place(self, x, y):
        """Pixels of data values."""
        left, top, right, bottom = self.box
        share = [(np.log(v) - np.log(a)) / (np.log(b) - np.log(a)) if log else (np.asarray(v) - a) / (b - a)
                 for v, (a, b), log in ((x, self.x_range, self.log_x), (y, self.y_range, self.log_y))]
        return left + share[0] * (right - left), bottom - np.clip(share[1], 0, 1) * (bottom - top)

    def points(self, x, y):
        return list(zip(*(v.tolist() for v in self.place(x, y))))

    def frame(self, x_ticks, y_ticks, x_title, y_title):
        left, top, right, bottom = self.box
        for value in x_ticks:
            at, _ = self.place(value, self.y_range[0])
            self.parts.append(Line(at, top, at, bottom, GRID))
            self.text(at, bottom + 18, tick(value), "middle")
        for value in y_ticks:
            _, at = self.place(self.x_range[0], value)
            self.parts.append(Line(left, at, right, at, GRID))
            self.text(left - 8, at + 4, tick(value), "end")
        self.parts.append(Frame(left, top, right - left, bottom - top, INK))
        self.text((left + right) / 2, bottom + 38, x_title, "middle")
        self.text(left, top - 8, y_title)

    def text(self, x, y, content, anchor="start"):
        self.parts.append(Text(x, y, content, anchor))

    def polyline(self, x, y, colour):
        self.parts.append(Curve(self.points(x, y), colour))

    def area(self, x, low, high):
        self.parts.append(Area(self.points(x, low) + self.points(x[::-1], high[::-1]), BAND))


def tick(value):
    return f"{value / 1000:g}k" if value >= 1000 else f"{value:g}"


def steps(low, high, log=False):
    """Round values within a range."""
    if log:
        return [d * 10.0**e for e in range(-2, 7) for d in (1, 1.5, 2, 3, 5, 7) if low <= d * 10.0**e <= high]
    unit = 10 ** np.floor(np.log10((high - low) / 4))
    unit *= max(m for m in (1, 2, 5) if m * unit <= (high - low) / 4)
    return np.arange(np.ceil(low / unit), np.floor(high / unit) + 1) * unit


def runs(known):
    """Slices of consecutive bands with a value."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], known.astype(int), [0]]))).reshape(-1, 2)
    return [slice(a, b) for a, b in edges]


def panel(table, value, low, high, y_range, box, title, log):
    """One panel of the curve: the 95 % band, the curve, the frame."""
    f = table["frequency_hz"]
    axes = Axes((f[0], f[-1]), y_range, box, log_x=True, log_y=log)
    frame = Axes((f[0], f[-1]), y_range, box, log_x=True, log_y=log)
    for run in runs(np.isfinite(low) & np.isfinite(high)):
        axes.area(f[run], low[run], high[run])
    frame.frame([t for t in DECADES if f[0] <= t <= f[-1]], steps(*y_range, log), "frequency / Hz", title)
    for run in runs(np.isfinite(value)):
        frame.polyline(f[run], value[run], COLOUR)
    return axes.parts + frame.parts


def curve(table, label, quantity, route, verdict, findings):
    """|Z| above, phase below, findings beside."""
    size, u = table["magnitude_ohm"], table["magnitude_u95_ohm"]
    bounded = np.isfinite(table["magnitude_low_ohm"])
    low = np.where(bounded, table["magnitude_low_ohm"], np.maximum(size - u, 0.01 * size))
    high = np.where(bounded, table["magnitude_high_ohm"], size + u)
    seen = np.isfinite(low) & np.isfinite(high)
    if not seen.any():
        return side(label, quantity, route, verdict, findings)
    y_range = max(low[seen].min(), 1e-2) * 0.8, high[seen].max() * 1.25
    parts = side(label, quantity, route, verdict, findings)
    parts += panel(table, size, low, high, y_range, (LEFT, 60, RIGHT, 400), "|Z| / Ω, band: 95 %", True)
    phase, turn = table["phase_deg"], table["phase_u95_deg"]
    if np.isfinite(phase).any():
        reach = max(10, 1.1 * np.nanmax(np.abs(phase) + turn))
        box = LEFT, 470, RIGHT, 690
        parts += panel(table, phase, phase - turn, phase + turn, (-reach, reach), box, "phase / °", False)
    return parts


def side(label, quantity, route, verdict, findings):
    """Title, and the findings in words."""
    note = Axes((0, 1), (0, 1), (0, 0, 1, 1))
    note.text(LEFT, 30, f"{label}: {quantity} ({route}, {verdict})")
    lines = [line for code, take, message in findings
             for line in textwrap.wrap(f"{code}: {take + ' ' if take else ''}{message}", 48) + [""]]
    for i, line in enumerate(lines[:38]):
        note.text(SIDE, 70 + 17 * i, line)
    return note.parts


def lines(bands, label):
    """1/D scaled to 1 at no load against load admittance in millisiemens, real part above, imaginary part below.

    bands: frequency, complex Z, conductances in siemens and complex 1/D of the takes.
    """
    siemens = np.array([b[2] for b in bands]) * 1000
    inverse = np.array([b[3] for b in bands])
    parts = []
    for pick, name, box in ((np.real, "Re 1/D", (LEFT, 60, RIGHT, 360)), (np.imag, "Im 1/D", (LEFT, 430, RIGHT, 690))):
        ends = np.array([0, siemens.max() * 1.05])
        values = pick(inverse)
        low, high = min(values.min(), pick(1)), max(values.max(), pick(1))
        margin = 0.1 * (high - low) + 1e-3
        axes = Axes(tuple(ends), (low - margin, high + margin), box)
        axes.frame(steps(*ends), steps(low - margin, high + margin), "load conductance / mS", name)
        for (f, z, _, _), x, y, colour in zip(bands, siemens, values, SERIES):
            axes.polyline(ends, pick(1 + z * ends / 1000), colour)
            axes.parts += [Circle(a, b, colour) for a, b in axes.points(x, y)]
        parts += axes.parts
    note = Axes((0, 1), (0, 1), (0, 0, 1, 1))
    note.text(LEFT, 30, f"{label}: the takes lie on a line in each band when loads and levels are as entered")
    for i, ((f, z, _, _), colour) in enumerate(zip(bands, SERIES)):
        note.parts.append(Square(SIDE, 60 + 22 * i, 12, colour))
        note.text(SIDE + 20, 71 + 22 * i, f"{f:.0f} Hz: {z.real:.1f} {z.imag:+.1f}j Ω")
    return parts + note.parts
