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

/** The comparisons of bands with their limits of one requirement, one object each. */
const checksOf = (r) => r.checks.frequency_hz.map((hz, i) => ({ hz, ohm: r.checks.magnitude_ohm[i], low: r.checks.min_ohm[i], high: r.checks.max_ohm[i],
  beyond: r.checks.beyond_percent[i], verdict: r.checks.verdict[i] }));

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
    const next = { from: c.hz / half, to: c.hz * half, low: c.low, high: c.high };
    if (last && last.low === next.low && last.high === next.high && next.from < last.to * 1.03) last.to = next.to;
    else out.push({ ...next, from: last && next.from < last.to ? last.to : next.from });
  }
  return out;
}

function drawn(place, told, curve) {
  const checks = told.requirements.flatMap(checksOf);
  const ratio = ratioOf(curve.bands.frequency_hz);
  const limits = told.requirements.flatMap((r) => rangesOf(checksOf(r), ratio));
  const line = magnitudeLine(curve, { words: (i) => bandOhms(curve.bands, i) });
  const marked = (word, label, colour) => {
    const found = checks.filter((c) => c.verdict === word && c.ohm !== null);
    return found.length ? { label, hz: found.map((c) => c.hz), value: found.map((c) => c.ohm), dots: found.map(() => true),
      colour, thin: true, pointsOnly: true, bandOnly: true, words: (i) => verdictWords(found[i]) } : null;
  };
  return graph(place, { title: "Magnitude of the source impedance and its limits, in Ω over Hz; allowed is the shaded range", log: true, height: 19, hz: 1000, limits,
    lines: [line, marked("undecided", "undecided", "warn"), marked("outside", "outside", "bad")].filter(Boolean) });
}

const verdictWords = (c) => (c.verdict === "outside" ? `${significant(c.beyond)} % beyond` : c.verdict);

function requirement(r) {
  return el("li", {}, el("h3", {}, r.kind[0].toUpperCase() + r.kind.slice(1), " ", verdict(r.verdict)), el("p", { class: "quiet-words" }, `requires ${r.requires}`),
    r.findings.length ? el("ul", {}, r.findings.map((f) => el("li", {}, f))) : null);
}

function cause(c) {
  return el("li", {}, el("p", {}, el("strong", {}, c.pattern), `: ${c.cause}`),
    el("p", {}, el("span", { class: "tag" }, "Confirm"), ` ${c.confirm}`),
    el("p", { class: "finding" }, el("strong", {}, "Caution: "), c.caution));
}

/** Shows the answer in `place`; returns what ends the plot. */
export function verdictOf(place, told, curve) {
  const picture = el("section", { class: "sheet", "aria-label": "Curve and limits" });
  const title = el("h2", { tabindex: -1 }, HEADLINES[told.verdict]);
  fill(place,
    el("section", { class: `sheet answer ${told.verdict}`, role: "status" }, title, el("p", {}, `${curve.label} against ${told.specification}`),
      (told.reasons ?? []).map((r) => el("p", {}, r)), (told.notes ?? []).map((n) => el("p", { class: "quiet-words" }, n)),
      el("ul", { class: "plain-list requirements" }, told.requirements.map(requirement))),
    picture,
    told.causes.length ? el("section", { class: "sheet", "aria-labelledby": "causes-title" }, el("h2", { id: "causes-title" }, "What may be behind it"),
      el("p", { class: "quiet-words" }, "Common practice, not measured; confirm before you solder."), el("ul", { class: "plain-list causes" }, told.causes.map(cause))) : null,
    told.findings?.length ? el("section", { class: "sheet" }, el("h2", {}, "Findings of the measurement"), findings(told.findings)) : null);
  const plot = drawn(picture, told, curve);
  return () => plot.dispose();
}
