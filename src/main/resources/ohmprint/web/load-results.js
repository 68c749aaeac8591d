// The answers about a load in words: ten times or not, loss, tilt, level and noise.
import { el, fill } from "./dom.js";
import { decibels, fixed, hertz, ohms, significant, withMinus } from "./format.js";

const TEN = {
  yes: ["good", "✓", "at least ten times everywhere"],
  no: ["bad", "✕", "less than ten times somewhere"],
  undecided: ["warn", "?", "ten times within the uncertainty, undecided"],
  unknown: ["plain", "?", "ten times: not known"],
};

/** An uncertainty is never rounded to nothing. */
export const roundedUp = (u95, places) => Math.ceil(u95 * 10 ** places) / 10 ** places;

/** A value with its uncertainty or bounds: "1.20 ± 0.05 dB at 45 Hz". */
export function predicted(p, unit, places = 2) {
  if (!p) return "unknown";
  const where = p.hz ? ` at ${hertz(p.hz)}` : "";
  if (p.value !== null && p.value !== undefined) {
    return `${fixed(p.value, places)}${p.u95 ? ` ± ${fixed(roundedUp(p.u95, places), places)}` : ""} ${unit}${where}`;
  }
  if (p.low !== null && p.low !== undefined) return `${fixed(p.low, places)} to ${fixed(p.high, places)} ${unit}${where}`;
  return "unknown";
}

/** `{node, show(answer), inputs(known), sentence(answer)}`. */
export function answers() {
  const now = el("div", { class: "load-now" });
  const least = el("div", { class: "load-least" });
  const pairs = (all) => el("dl", { class: "facts" }, all.filter(([, v]) => v).map(([k, v]) => el("div", {}, el("dt", {}, k), el("dd", {}, v))));
  return {
    node: el("div", { class: "load-words" }, now, least),
    show(a) {
      const [tone, mark, words] = TEN[a.ten_times] ?? TEN.unknown;
      const level = a.level;
      fill(now, el("p", {}, el("span", { class: `word ${tone}` }, el("span", { "aria-hidden": "true" }, `${mark} `), words)),
        pairs([["Least ratio", ratio(a.least_ratio)], ["Greatest loss", predicted(a.worst_loss, "dB")], ["Loss at 1 kHz", predicted(a.loss_at_1k, "dB")],
          ["Tilt over the range", predicted(a.tilt, "dB")],
          ...(level ? [["Level at the input", `${predicted(level.level_dbu, "dBu", 1)}${level.millivolt ? ` (${predicted(level.millivolt, "mV")})` : ""}`],
            ["Gain needed", level.needed_gain_db && predicted(level.needed_gain_db, "dB", 1)],
            ["Thermal noise", level.thermal_dbu && predicted(level.thermal_dbu, "dBu", 1)],
            ["Noise with the electronics", level.total_dbu && `${predicted(level.total_dbu, "dBu", 1)}${level.ein ? `; EIN ${withMinus(level.ein)}` : ""}`],
            ["Noise penalty of the load", level.penalty_db && predicted(level.penalty_db, "dB", 1)]] : [])]));
    },
    inputs(known) {
      if (!known) return fill(least);
      return fill(least, el("p", { class: "quiet-words" }, [
        known.ten_times_ohm?.value ? `Ten times holds from ${ohms(known.ten_times_ohm.value)}. ` : "",
        limit(known.least_for_loss, "loses at most 1 dB"), limit(known.least_for_tilt, "tilts at most 0.5 dB")].join("")));
    },
    /** For the slider, which speaks it with each step. */
    sentence: (ohm, a) => `${ohms(ohm)}: ${(TEN[a.ten_times] ?? TEN.unknown)[2]}, greatest loss ${decibels(a.worst_loss?.value, 1)}`,
  };
}

const ratio = (p) => (p && p.value !== null && p.value !== undefined ? `${significant(p.value, 3)} times${p.hz ? ` at ${hertz(p.hz)}` : ""}` : null);

const limit = (p, words) => (!p ? "" : p.any ? `Any load ${words}. ` : p.ohm?.value
  ? `From ${ohms(p.ohm.value)}${p.up_to_ohm ? ` to ${ohms(p.up_to_ohm)}` : ""} it ${words}. ` : "");
