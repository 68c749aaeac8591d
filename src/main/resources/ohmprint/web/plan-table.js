// What a plan of loads says: the sets with what each gives, what limits them, and what a change would give.
import { button, el, table } from "./dom.js";
import { hertz, ohms, percent } from "./format.js";

const reach = (value) => (value === null ? "out of reach" : `± ${percent(value)}`);

/** Loads in words: "220 Ω, 680 Ω, no resistor". */
export const loadsInWords = (loads) => loads.map((l) => ohms(l)).join(", ");

function wanted(set) {
  if (set.wanted_u95_percent === undefined) return null;
  return set.seconds_for_wanted === null
    ? `${percent(set.wanted_u95_percent)} in all bands is out of reach of any length of sweep: drift, resistors and input alone exceed it.`
    : `${percent(set.wanted_u95_percent)} in all bands takes a sweep of ${Math.ceil(set.seconds_for_wanted)} s.`;
}

/**
 * The sets of a plan as a table, best first, with a button for each when `use(set)` is given, and what a change to the best
 * would give. `most` limits the number of sets.
 */
export function planTable(plan, { use = null, most = Infinity, changes = true } = {}) {
  const sets = plan.sets.slice(0, most);
  const careful = sets.some((set) => set.findings.length);
  const heads = ["Loads", "Worst band", "at", "Median band", "Limited by", ...(careful ? ["Careful"] : []), ...(use ? ["Take them"] : [])];
  const rows = sets.map((set) => [
    loadsInWords(set.loads_ohm), reach(set.predicted_worst_u95_percent), hertz(set.worst_hz), reach(set.predicted_median_u95_percent),
    set.dominated_by,
    ...(careful ? [set.findings.map((f) => el("p", { class: "finding" }, f.message))] : []),
    ...(use ? [button("Use these", async () => use(set), { "aria-label": `Use ${loadsInWords(set.loads_ohm)}` })] : []),
  ]);
  const best = plan.sets[0];
  return [
    el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Sets of loads" },
      table("Loads by their predicted 95 % uncertainty of |Z|, best first", heads, rows, { class: "cards" })),
    best ? el("p", {}, "Take the best in this order: ", el("strong", {}, loadsInWords(best.take_order_ohm)),
      ". The first load once more at the end shows the drift.") : null,
    best && wanted(best) ? el("p", {}, wanted(best)) : null,
    changes && best?.changes.length ? table("What a change to the best would give", ["Change", "Worst band", "Median band"],
      best.changes.map((c) => [c.change, reach(c.predicted_worst_u95_percent), reach(c.predicted_median_u95_percent)])) : null,
    plan.notes.map((n) => el("p", {}, n)),
  ];
}

/** What was assumed, in a sentence. */
export function assumed(plan) {
  return `Expected: ${plan.expected}. Input: ${plan.input}. ${hertz(plan.lowest_hz)} to ${hertz(plan.highest_hz)} in 1/${plan.bands_per_octave} `
    + `octaves; sweep of ${plan.seconds} s, signal ${plan.snr_db} dB over noise, drift ${plan.drift_percent} %, resistors ± ${plan.tolerance_percent} %.`;
}
