// The answers about a load in words: ten times or not, loss, tilt, level and noise.
import { el, fill } from "./dom.js";
import { decibels, fixed, hertz, ohms, significant, withMinus } from "./format.js";

const TEN = {
  yes: ["good", "✓", "at least ten times everywhere"],
  no: ["bad", "✕", "less than ten times somewhere"],
  undecided: ["warn", "?", "ten times within the uncertainty, undecided"],
  unknown: ["plain", "?", "ten times: not known"],
};

/** Loss and level without a frequency of their own are those of this tone, in Hz. */
const TONE = 1000;

/** An uncertainty is never rounded to nothing. */
export const roundedUp = (u95, places) => Math.ceil(u95 * 10 ** places) / 10 ** places;

/** A quantity of an answer by the key of its value: `tilt_db`, beside which stand `tilt_u95_db` and others; `hz` where it belongs to none that is told. */
function quantity(answer, key, hz = null) {
  const [, name, unit] = /^(.*?)((?:_(?:dbu?|mv|ohm))?)$/.exec(key);
  const of = (part) => answer[`${name}_${part}${unit}`] ?? null;
  return { value: answer[key] ?? null, u95: of("u95"), low: of("low"), high: of("high"), hz: answer[`${name}_hz`] ?? hz };
}

/** A value with its uncertainty or bounds: "1.20 ± 0.05 dB at 45 Hz". */
function predicted(p, unit, places = 2) {
  const where = p.hz ? ` at ${hertz(p.hz)}` : "";
  if (p.value !== null) return `${fixed(p.value, places)}${p.u95 ? ` ± ${fixed(roundedUp(p.u95, places), places)}` : ""} ${unit}${where}`;
  return p.low === null ? "unknown" : `${fixed(p.low, places)} to ${fixed(p.high, places)} ${unit}${where}`;
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
      const one = (key, unit, places, hz) => predicted(quantity(a, key, hz), unit, places);
      fill(now, el("p", {}, el("span", { class: `word ${tone}` }, el("span", { "aria-hidden": "true" }, `${mark} `), words)),
        pairs([["Least ratio", ratio(quantity(a, "least_ratio"))], ["Greatest loss", one("worst_loss_db", "dB")], ["Loss at 1 kHz", one("loss_1khz_db", "dB", 2, TONE)],
          ["Tilt over the range", one("tilt_db", "dB")],
          ...("level_dbu" in a ? [["Level at the input", `${one("level_dbu", "dBu", 1, TONE)} (${one("level_mv", "mV", 2, TONE)})`],
            ["Gain needed", one("needed_gain_db", "dB", 1, TONE)],
            ["Thermal noise", one("thermal_noise_dbu", "dBu", 1)],
            ["Noise with the electronics", `${one("noise_dbu", "dBu", 1)}${a.ein ? `; EIN ${withMinus(a.ein)}` : ""}`],
            ["Noise penalty of the load", one("noise_penalty_db", "dB", 1)]] : [])]));
    },
    inputs(known) {
      if (!known) return fill(least);
      return fill(least, el("p", { class: "quiet-words" }, [
        known.ten_times_ohm ? `Ten times holds from ${ohms(known.ten_times_ohm)}. ` : "",
        limit(known, "least_load_1db", "loses at most 1 dB"), limit(known, "least_load_half_db_tilt", "tilts at most 0.5 dB")].join("")));
    },
    /** For the slider, which speaks it with each step. */
    sentence: (ohm, a) => `${ohms(ohm)}: ${(TEN[a.ten_times] ?? TEN.unknown)[2]}, greatest loss ${decibels(a.worst_loss_db, 1)}`,
  };
}

const ratio = (p) => (p.value === null ? null : `${significant(p.value, 3)} times${p.hz ? ` at ${hertz(p.hz)}` : ""}`);

const limit = (known, key, words) => {
  const [from, to] = [known[`${key}_ohm`], known[`${key}_upto_ohm`]];
  return known[`${key}_any`] ? `Any load ${words}. ` : from ? `From ${ohms(from)}${to ? ` to ${ohms(to)}` : ""} it ${words}. ` : "";
};
