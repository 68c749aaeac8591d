"""What was noticed, in words: triples of code, take or None, and message. And the verdict."""
import numpy as np

FATAL = ("clipped", "dropout")
DOUBT = ("load-mismatch", "timing", "not-coherent", "input-unknown", "negative-resistance")


def of_takes(session, checks, references):
    """Findings of each take by itself."""
    for take, seen, reference in zip(session.takes, checks, references):
        for one, where in ((seen, ""), (reference, " on its reference channel")):
            if one and one.flat_ms:
                yield ("clipped", take.file, f"has flat tops for {one.flat_ms:.1f} ms at {20 * np.log10(one.flat_level):.1f} dBFS"
                       f"{where}; lower the level and record it again")
        if seen.standstills:
            total = sum(n for _, n in seen.standstills) * 1000 / take.wav.rate
            yield ("dropout", take.file, f"stands still for {total:.1f} ms in all, first at "
                   f"{seen.standstills[0][0] / take.wav.rate:.3f} s; record it again with a larger buffer")
        peak = 20 * np.log10(max(seen.peak, 1e-15))
        if peak < -60:
            yield "low-snr", take.file, f"peaks at {peak:.1f} dBFS only; raise the gain and record it again"
        if seen.background is None:
            yield ("low-snr", take.file, "has no silent lead-in of 0.3 s or more, so its noise floor is judged by the scatter "
                   "alone; leave half a second of silence before the sound")
        elif seen.background.lines:
            lines = sorted(seen.background.lines, key=lambda line: -line[1])
            level = 10 * np.log10(sum(p for _, p in lines))
            if level - 20 * np.log10(seen.rms) > -60:
                yield ("hum", take.file, f"hum at {level:.0f} dBFS ({', '.join(f'{hz:.1f} Hz' for hz, _ in lines[:4])}); what lies "
                       "next to it weighs little: move microphone and cable away from transformers")
        least = session.microphone.get("rated_minimum_load_ohm")
        if least and take.conductance * least > 1:
            yield ("rated-load", take.file, f"its load of {1 / take.conductance:.0f} Ω is below the {least:.0f} Ω that the maker "
                   "allows; damping and distortion may differ from normal use")


def of_session(session, high, highest):
    if not session.known_input:
        yield ("input-unknown", None, "the recording input is not known, so the curve is that of the microphone in parallel with "
               "it; state resistance_ohm and capacitance_pf under input")
    if high > highest:
        yield ("sample-rate", None, f"takes at {session.rate} Hz hold nothing above {highest / 1000:.1f} kHz; record at 48 kHz or "
               "more for the whole range")


def of_saturation(files, third):
    """Takes that are driven into curvature: the fundamental loses three times what the third harmonic holds."""
    for file, own in zip(files, third):
        loss = -20 * np.log10(1 - min(0.3, 3 * (own - third.min())))
        if loss >= 0.05:
            yield ("nonlinear", file, f"its third harmonic is {100 * own:.2f} %, that of the cleanest take {100 * third.min():.2f} %: "
                   f"it reads about {loss:.2f} dB low; lower the level and record all takes again")


def of_drift(session, seen, repeated):
    """Level changes that repeated loads or the reference channels show; both have been taken out."""
    for k, (first, ratio) in repeated.items():
        db = 20 * ratio / np.log(10)
        if abs(db) > 0.02:
            yield ("level-drift", session.takes[seen.kept[k]].file, f"is {db:+.3f} dB against {session.takes[seen.kept[first]].file} "
                   "with the same load; a steady drift has been taken out: let the equipment warm up and touch nothing")
    for take, db in zip(session.takes, seen.drift_db):
        if abs(db) > 0.02:
            yield ("level-drift", take.file, f"the source was {db:+.2f} dB against the first take, by the reference channel; it has "
                   "been taken out")


def of_agreement(session, kept, found):
    if not found.disagrees:
        return
    if found.suspect is None:
        yield ("load-mismatch", None, f"the takes do not lie on one line: {100 * found.misfit:.1f} % of the signal is left over; a "
               "load or a level is not what was entered, and a fourth load would tell which")
        return
    take = session.takes[kept[found.suspect]]
    if found.level_explains:
        yield ("level-drift", take.file, f"its level is {found.level_db:+.2f} dB off what the other takes ask for; touch nothing "
               "between takes and record it again")
        return
    entered = f"{1 / take.conductance:g} Ω" if take.conductance else "open"
    fitting = f"{found.ohm:.4g} Ω" if found.ohm < 2e5 else "no resistor (open)"
    yield ("load-mismatch", take.file, f"entered as {entered}, but {fitting} would fit the other takes; it is left out of the curve: "
           "check the resistor, correct session.yaml and measure again")


def ranges(f, where):
    """Runs of bands as text; of many only the first five."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], where.astype(int), [0]]))).reshape(-1, 2)
    text = [" to ".join(dict.fromkeys(hertz(f[i]) for i in (a, b - 1))) for a, b in edges]
    return ", ".join(text[:5]) + (f" and {len(text) - 5} more ranges" if len(text) > 5 else "")


def hertz(f):
    return f"{f:.0f} Hz" if f < 1000 else f"{f / 1000:.1f} kHz"


def negative(fit):
    with np.errstate(invalid="ignore"):
        return fit.z.real < -3 * np.sqrt(fit.covariance[0])


def of_curve(fit):
    rejected = fit.status == "rejected"
    weak = ~rejected & (fit.snr_db < 20)
    if weak.any():
        yield ("low-snr", None, f"less than 20 dB above the noise at {ranges(fit.f, weak)}; play louder, come closer or use a longer "
               "sweep if these frequencies matter")
    if rejected.any():
        yield "low-snr", None, f"no value at {ranges(fit.f, rejected)}: the takes hold too little there, or too much of something else"
    if negative(fit).any():
        yield ("negative-resistance", None, f"the resistance comes out below zero at {ranges(fit.f, negative(fit))}, which no passive "
               "source has; check loads, channels and the order of the takes")


def verdict(fit, findings, drifted):
    """usable, doubtful or unusable."""
    codes = {code for code, _, _ in findings}
    rejected = np.mean(fit.status == "rejected")
    if codes & set(FATAL) or rejected == 1 or np.mean(negative(fit)) > 0.1:
        return "unusable"
    return "doubtful" if drifted or rejected > 1 / 3 or codes & set(DOUBT) else "usable"


def rank(finding):
    """What spoils a take first, then what makes doubtful, then the rest, hum last."""
    code = finding[0]
    return 0 if code in FATAL else 1 if code in DOUBT else 3 if code == "hum" else 2
