"""The session: what session.yaml says about takes, loads, input and microphone."""
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import yaml
from wav import Wav

KEYS = {"version", "microphone", "input", "stimulus", "takes", "level_drift_percent", "operator", "workshop", "notes"}
TAKE_KEYS = {"file", "load_ohm", "load_tolerance_percent", "load_u_ohm", "channel", "reference_channel", "note", "time"}
PHANTOM_FEEDS_OHM = 13620.0


@dataclass
class Take:
    """One recording, its load as a conductance in siemens (0 when open) with its relative standard uncertainty."""

    file: str
    wav: Wav
    conductance: float
    load_u: float
    tolerance_percent: float
    channel: int
    reference: int | None


@dataclass
class Session:
    folder: Path
    takes: list
    microphone: dict
    input: dict
    stimulus: Wav | None
    level_drift: float | None
    known_input: bool = field(init=False)

    def __post_init__(self):
        self.known_input = self.input.get("resistance_ohm") != "unknown" or "curve" in self.input
        if "curve" in self.input:
            self.curve = read_curve(self.folder / self.input["curve"])

    @property
    def rate(self):
        return self.takes[0].wav.rate

    def input_admittance(self, f):
        """Y_in in siemens at f hertz, and the change that one standard deviation of each influence on it makes."""
        fed = 1 / PHANTOM_FEEDS_OHM if self.input.get("add_phantom_feeds") and self.known_input else 0
        if "curve" in self.input:
            hz, ohms, u = self.curve
            y = np.interp(np.log(f), np.log(hz), 1 / ohms)
            spread = np.interp(np.log(f), np.log(hz), u) * y
            return y + fed, [spread, 1j * spread]
        conductance = 1 / self.input["resistance_ohm"] if self.known_input else 0
        susceptance = 2j * np.pi * f * self.input.get("capacitance_pf", 0) * 1e-12
        effects = [susceptance * self.input.get("capacitance_tolerance_percent", 20) / 100 / 3**0.5]
        if self.known_input:
            tolerance = self.input.get("resistance_tolerance_percent", 5) / 100 / 3**0.5
            effects.append(np.full_like(susceptance, -conductance * tolerance))
        return conductance + susceptance + fed, effects

    def admittances(self, f, kept):
        """y of the takes with these indices at f hertz, one row per take."""
        loads = np.array([self.takes[k].conductance for k in kept])
        return loads[:, None] + self.input_admittance(f)[0]


def read_curve(path):
    """Frequencies, complex ohms and relative standard uncertainty of a measured input."""
    table = np.genfromtxt(path, delimiter=",", names=True, dtype=None, encoding="utf-8")
    if "status" in table.dtype.names:
        table = table[table["status"] == "measured"]
    ohms = table["resistance_ohm"] + 1j * table["reactance_ohm"]
    named = "magnitude_u95_ohm" in table.dtype.names
    u = table["magnitude_u95_ohm"] / 1.96 / np.abs(ohms) if named else np.full(len(ohms), 0.01)
    return table["frequency_hz"], ohms, u


def read_take(folder, entry):
    unknown = set(entry) - TAKE_KEYS
    if unknown or not {"file", "load_ohm"} <= set(entry):
        raise ValueError(f"a take needs file and load_ohm and does not know {sorted(unknown)}; correct session.yaml")
    wav, load = Wav(folder / entry["file"]), entry["load_ohm"]
    if load != "open" and not (isinstance(load, (int, float)) and load > 0):
        raise ValueError(f"the load of {entry['file']} is {load}; give ohms above 0, or open")
    for channel in (entry.get("channel", 1), entry.get("reference_channel") or 1):
        if not 1 <= channel <= wav.channels:
            raise ValueError(f"{entry['file']} has {wav.channels} channels, not a channel {channel}; correct session.yaml")
    percent = 0 if load == "open" else entry.get("load_tolerance_percent", 1)
    u = entry["load_u_ohm"] / load if "load_u_ohm" in entry else percent / 100 / 3**0.5
    conductance = 0.0 if load == "open" else 1 / load
    return Take(entry["file"], wav, conductance, u, percent, entry.get("channel", 1), entry.get("reference_channel"))


def read_session(folder):
    """The session of a folder; a ValueError says what to correct."""
    document = yaml.safe_load((folder / "session.yaml").read_text(encoding="utf-8"))
    unknown = set(document) - KEYS
    if unknown or document.get("version") != 1:
        raise ValueError(f"session.yaml: version 1 is read, without the keys {sorted(unknown)}; correct it")
    for key in ("microphone", "input", "takes"):
        if not document.get(key):
            raise ValueError(f"session.yaml has no {key}; add it")
    if not {"resistance_ohm", "curve"} & set(document["input"]):
        raise ValueError("session.yaml: input needs resistance_ohm, if only as unknown; add it")
    takes = [read_take(folder, entry) for entry in document["takes"]]
    if len({t.conductance for t in takes}) < 2:
        raise ValueError("session.yaml: all takes have one load; record the same sound through another load")
    if len({t.wav.rate for t in takes}) > 1:
        raise ValueError("the takes differ in their sample rate; record all of them at one rate")
    file = (document.get("stimulus") or {}).get("file")
    drift = document.get("level_drift_percent")
    return Session(folder, takes, document["microphone"], document["input"], Wav(folder / file) if file else None,
                   None if drift is None else drift / 100)
