"""Which route the evidence allows, and the takes as seen along it."""
from dataclasses import dataclass, field

import numpy as np
from align import residual_delays
from bands import coherence
from findings import of_saturation
from spectra import LONGEST, WholeTakes, by_power, by_reference

COHERENT = 0.5
DRIFT_WORTH_A_WORD_DB = 0.02


@dataclass
class Seen:
    """route and reason in words, cells, indices of the takes in them, delay in samples and drift in dB by take."""

    route: str
    reason: str
    cells: object
    kept: np.ndarray
    delays: np.ndarray
    drift_db: np.ndarray
    delay_u: float = 0.0
    findings: list = field(default_factory=list)


class Routes:
    def __init__(self, session, checks, references, low, high):
        self.session, self.checks, self.references, self.range = session, checks, references, (low, high)
        self.takes = session.takes
        # The take with the most signal.
        self.pivot = int(np.argmin([t.conductance for t in self.takes]))
        self.nothing = np.full(len(self.takes), np.nan)

    def choose(self, route):
        """Observes along the given route, or with auto along the one that the takes allow."""
        referenced = all(t.reference for t in self.takes)
        if route == "reference" and not referenced:
            raise ValueError("the route 'reference' needs reference_channel in every take; add it or take another route")
        if route == "stimulus" and not self.session.stimulus:
            raise ValueError("the route 'stimulus' needs stimulus: {file: …} in session.yaml; add it")
        if route == "reference" or (route == "auto" and referenced):
            return self.reference("every take has a reference channel" if route == "auto" else "asked for")
        if route == "power":
            return self.power("asked for")
        return self.same_sound(route)

    def same_sound(self, route):
        stimulus = self.session.stimulus if route != "common" else None
        whole = WholeTakes([t.wav for t in self.takes], [t.channel for t in self.takes], self.checks, self.pivot, stimulus)
        kept = np.flatnonzero(whole.found) if route == "auto" else np.arange(len(self.takes))
        findings = []
        if len(kept) > 1 and stimulus:
            cells = whole.by_stimulus(kept, *self.range)
            if cells is not None:
                reason = "asked for" if route == "stimulus" else "the stimulus is found in the takes"
                findings += of_saturation([self.takes[k].file for k in kept], whole.third[kept])
                return self.timed("stimulus", reason, cells, kept, whole.lags, findings)
            findings.append(("not-coherent", self.takes[self.pivot].file,
                             "the stimulus file is not what this take holds; name the file that was played, or none"))
            if route == "stimulus":
                raise ValueError("the stimulus is not found in the takes; take another route")
        cells = whole.side_by_side(kept, *self.range) if len(kept) > 1 else None
        if cells is not None:
            same = coherence(cells, int(np.argmax(kept == self.pivot))) > COHERENT
            if route == "common" or np.sum(same) > 1:
                same = same | (route == "common")
                reason = "asked for" if route == "common" else "the takes are coherent, no stimulus is at hand"
                return self.timed("common", reason, cells.only(same), kept[same], whole.lags, findings)
        seen = self.power("the takes do not hold the same sound and have no reference channel")
        seen.findings += findings
        return seen

    def timed(self, route, reason, cells, kept, lags, findings, reference=None):
        """Takes out delays below whole samples and, with a reference, the change of the source from take to take."""
        pivot = int(np.argmax(kept == self.pivot))
        rate = self.session.rate
        seconds, u, fraction = residual_delays(cells, pivot, rate, *self.range)
        delays = self.nothing.copy()
        delays[kept] = lags[kept] + seconds * rate
        for k in np.flatnonzero(fraction):
            off = seconds[k] * rate - np.rint(seconds[k] * rate)
            findings.append(("timing", self.takes[kept[k]].file, f"its delay is {off:.3f} ± {2 * u[k] * rate:.3f} samples off a "
                             "whole number, so playback and recording did not share one clock; use one interface for both"))
        for k in set(range(len(self.takes))) - set(kept):
            findings.append(("not-coherent", self.takes[k].file, "does not hold the sound of the other takes and is left out; "
                             "check file and channel, record it again"))
        cells, drift = cells.advanced(seconds), self.nothing
        if reference is not None:
            gain, drift = source_drift(reference.advanced(seconds), pivot)
            cells = cells.divided(gain)
        return Seen(route, reason, cells, kept, delays, drift, float(u.max()), findings)

    def reference(self, reason):
        """With one sound in all takes they are compared with each other, otherwise each with its reference."""
        everything = np.arange(len(self.takes))
        if all(t.wav.frames <= LONGEST for t in self.takes):
            whole = WholeTakes([t.wav for t in self.takes], [t.channel for t in self.takes], self.checks, self.pivot)
            cells = whole.side_by_side(everything, *self.range) if whole.found.all() else None
            if cells is not None and np.all(coherence(cells, self.pivot) > COHERENT):
                others = [t.wav.read(t.reference) for t in self.takes]
                heard = whole.side_by_side(everything, *self.range, signals=others, checks=self.references)
                return self.timed("reference", reason + ", and all hold the same sound", cells, everything, whole.lags, [], heard)
        cells, level, gamma = by_reference(self.takes, self.checks, self.references, *self.range)
        findings = [("not-coherent", t.file, f"microphone and reference channel share little (median coherence {g:.2f}); check "
                     "that both hear the loudspeaker") for t, g in zip(self.takes, gamma) if g < COHERENT]
        return Seen("reference", reason, cells, everything, self.nothing, 10 * np.log10(level / level[0]), 0.0, findings)

    def power(self, reason):
        cells = by_power(self.takes, self.checks, *self.range)
        return Seen("power", reason, cells, np.arange(len(self.takes)), self.nothing, self.nothing)


def source_drift(reference, pivot):
    """Gain of each take against the pivot by the reference channels, over an octave around each cell, and dB overall."""
    f, s = reference.f, reference.products.copy()
    own = s[pivot, pivot].real
    s[pivot, pivot] = np.maximum(own - reference.count * reference.noise[pivot], 0.1 * own)
    sums = np.concatenate([np.zeros((len(s), 1)), np.cumsum(s[:, pivot], axis=-1)], axis=-1)
    first, last = np.searchsorted(f, f / 2**0.5), np.searchsorted(f, f * 2**0.5)
    gain = (sums[:, last] - sums[:, first]) / (sums[pivot, last] - sums[pivot, first])
    level = 20 * np.log10(np.abs(sums[:, -1] / sums[pivot, -1]))
    return gain, level - level[0]
