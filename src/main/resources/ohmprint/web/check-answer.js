// The answer of a check: the verdict, each requirement, what may be behind it, and the limits drawn behind the curve.
import { el, fill } from "./dom.js";
import { graph } from "./graph.js";
import { magnitudeLine } from "./graph-lines.js";
import { findings, verdict } from "./verdict-view.js";
import { bandOhms, significant } from "./format.js";

const HEADLINES = {
  within: "Within the limits", outside: "Outside the limits", undecided: "Undecided within the uncertainty",
};
const BAND = 2 ** (1 / 3);
const SINGLE = 1.25;

/** The bands of a requirement that were compared with limits; a resonance has none. */
const checksOf = (r) => r.checks ?? [];

/** Width of a band as a ratio, from the neighbours that there are. */
function ratioOf(hz) {
  const ratios = hz.slice(1).map((f, i) => f / hz[i]).filter((r) => r > 1.001);
  return ratios.length ? Math.min(...ratios) : BAND;
}

/** The limits of one requirement as ranges of Hz: neighbouring bands with the same limits are one; a single band is made wide enough to see. */
function rangesOf(checks, ratio) {
  const half = Math.sqrt(checks.length === 1 ? SINGLE : ratio);
  const out = [];
  for (const c of checks) {
    const last = out[out.length - 1];
    const next = { from: c.frequency_hz / half, to: c.frequency_hz * half, low: c.min_ohm, high: c.max_ohm };
    if (last && last.low === next.low && last.high === next.high && next.from < last.to * 1.03) last.to = next.to;
    else out.push({ ...next, from: last && next.from < last.to ? last.to : next.from });
  }
  return out;
}

function drawn(place, requirements, curve) {
  const checks = requirements.flatMap(checksOf);
  const ratio = ratioOf(curve.bands.frequency_hz);
  const limits = requirements.flatMap((r) => rangesOf(checksOf(r), ratio));
  const line = magnitudeLine(curve, { words: (i) => bandOhms(curve.bands, i) });
  const marked = (word, label, colour) => {
    const found = checks.filter((c) => c.verdict === word && c.magnitude_ohm !== null);
    return found.length ? { label, hz: found.map((c) => c.frequency_hz), value: found.map((c) => c.magnitude_ohm), dots: found.map(() => true),
      colour, thin: true, pointsOnly: true, bandOnly: true, words: (i) => verdictWords(found[i]) } : null;
  };
  return graph(place, { title: "Magnitude of the source impedance and its limits, in Ω over Hz; allowed is the shaded range", log: true, height: 19, hz: 1000, limits,
    lines: [line, marked("undecided", "undecided", "warn"), marked("outside", "outside", "bad")].filter(Boolean) });
}

const verdictWords = (c) => (c.verdict === "outside" ? `${significant(c.beyond_percent)} % beyond` : c.verdict);

function requirement(r, found) {
  return el("li", {}, el("h3", {}, r.kind[0].toUpperCase() + r.kind.slice(1).replaceAll("_", " "), " ", verdict(r.verdict)), el("p", { class: "quiet-words" }, `requires ${r.requires}`),
    found.length ? el("ul", {}, found.map((f) => el("li", {}, f))) : null);
}

function cause(c) {
  return el("li", {}, el("p", {}, el("strong", {}, c.pattern), `: ${c.cause}`),
    el("p", {}, el("span", { class: "tag" }, "Confirm"), ` ${c.confirm}`),
    el("p", { class: "finding" }, el("strong", {}, "Caution: "), c.caution));
}

/** Shows the answer in `place`; returns what ends the plot. */
export function verdictOf(place, { check, found, findings: noticed }, curve) {
  const picture = el("section", { class: "sheet", "aria-label": "Curve and limits" });
  const title = el("h2", { tabindex: -1 }, HEADLINES[check.verdict]);
  const causes = check.possible_causes;
  fill(place,
    el("section", { class: `sheet answer ${check.verdict}`, role: "status" }, title, el("p", {}, `${curve.label} against ${check.specification}`),
      check.reasons.map((r) => el("p", {}, r)), check.notes.map((n) => el("p", { class: "quiet-words" }, n)),
      el("ul", { class: "plain-list requirements" }, check.requirements.map((r, i) => requirement(r, found[i])))),
    picture,
    causes.length ? el("section", { class: "sheet", "aria-labelledby": "causes-title" }, el("h2", { id: "causes-title" }, "What may be behind it"),
      el("p", { class: "quiet-words" }, "Common practice, not measured; confirm before you solder."), el("ul", { class: "plain-list causes" }, causes.map(cause))) : null,
    noticed.length ? el("section", { class: "sheet" }, el("h2", {}, "Findings of the measurement"), findings(noticed)) : null);
  const plot = drawn(picture, check.requirements, curve);
  return () => plot.dispose();
}
