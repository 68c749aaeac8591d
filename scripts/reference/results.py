"""The text of the result files: curve.csv, curve.json and curve.s1p."""
import datetime
import json

import numpy as np

HEADER = ("frequency_hz,magnitude_ohm,phase_deg,resistance_ohm,reactance_ohm,magnitude_u95_ohm,phase_u95_deg,snr_db,"
          "status,magnitude_low_ohm,magnitude_high_ohm")


def columns(fit, magnitude, resistance):
    """The columns of the table by name; NaN where nothing is known."""
    nothing = np.full(len(fit.f), np.nan)
    low, high = (nothing if x is None else x for x in (fit.low, fit.high))
    return dict(zip(HEADER.split(","), (fit.f, magnitude, np.degrees(np.angle(fit.z)), resistance, fit.z.imag, fit.magnitude_u95,
                                        fit.phase_u95, fit.snr_db, fit.status, low, high)))


def csv(table):
    """One row per band, nine digits."""
    text = [x if x.dtype == object else ["" if np.isnan(v) else f"{v:.9g}" for v in x] for x in table.values()]
    return "\n".join([HEADER, *map(",".join, zip(*text))]) + "\n"


def touchstone(table, label, quantity):
    """One port, impedance, reference 1 Ω; None without a phase."""
    rows = [f"{f:.9g} {r:.9g} {x:.9g}" for f, r, x in zip(table["frequency_hz"], table["resistance_ohm"], table["reactance_ohm"])
            if np.isfinite(x)]
    head = [f"! {label}".encode("ascii", "replace").decode(), f"! {quantity}, resistance and reactance in ohms", "# Hz Z RI R 1"]
    return "\n".join(head + rows) + "\n" if rows else None


def plain(value):
    """Numbers that JSON knows: None for what is not finite."""
    return float(value) if np.isfinite(value) else None


def numbers(values):
    return list(map(plain, values))


def document(session, seen, fit, table, verdict, findings, left_out, hashes, per_octave):
    """curve.json: the whole measurement with budget and provenance."""
    bands = []
    names = [n for n in table if n != "status"]
    budget = [{f"{origin}_ohm": plain(u[i]) for origin, u in fit.budget.items()} for i in range(len(fit.f))]
    for i, status in enumerate(fit.status):
        band = {name: plain(table[name][i]) for name in names}
        known = np.isfinite(fit.covariance[0, i])
        band["status"] = status
        band["covariance"] = dict(zip(("var_r", "var_x", "cov_rx"), map(plain, fit.covariance[:, i]))) if known else None
        band["budget"] = budget[i] if status == "measured" else None
        bands.append(band)
    across = {"noise": {"var_r": numbers(fit.noise), "var_x": numbers(fit.noise)},
              "causes": [{"origin": origin, "dr_ohm": numbers(move.real), "dx_ohm": numbers(move.imag)}
                         for origin, move in fit.causes]} if fit.causes else None
    takes = [{"file": t.file, "sha256": h, "load_ohm": 1 / t.conductance if t.conductance else "open",
              "load_tolerance_percent": t.tolerance_percent, "channel": t.channel, "reference_channel": t.reference,
              "delay_samples": plain(d), "drift_db": plain(g), "left_out": bool(o)}
             for t, h, d, g, o in zip(session.takes, hashes, seen.delays, seen.drift_db, left_out)]
    stimulus = {"file": session.stimulus.path.name, "sha256": hashes[-1]} if session.stimulus else None
    return json.dumps({
        "quantity": quantity(session), "parallel_with_input": not session.known_input, "microphone": session.microphone,
        "bands_per_octave": per_octave, "route": seen.route, "route_reason": seen.reason, "verdict": verdict,
        "findings": [{"code": code, "take": take, "message": message} for code, take, message in findings],
        "bands": bands,
        "budget": [{"frequency_hz": b["frequency_hz"], **b["budget"]} for b in bands if b["budget"]],
        "covariance_across_bands": across,
        "provenance": {"program": "baseline", "input": session.input, "stimulus": stimulus, "takes": takes,
                       "computed_at": datetime.datetime.now(datetime.timezone.utc).isoformat(timespec="seconds")},
    }, ensure_ascii=False, indent=2) + "\n"


def quantity(session):
    return "source impedance" if session.known_input else "source impedance in parallel with the input"
