// What the cursor stands on: exact values, where their uncertainty comes from, and the straight line they come from.
import { bandAt } from "./bands.js";
import { el, fill, table } from "./dom.js";
import { query } from "./api.js";
import { lineSample, lookOf } from "./graph.js";
import { bandOhms, decibels, hertz, plusMinus, significant } from "./format.js";

const ORIGINS = { noise: "noise", drift: "level from take to take", loads: "the resistors", input: "the input", timing: "timing" };
const DARK = matchMedia("(prefers-color-scheme: dark)");

/** The readout; `laid()` gives the curves that are laid over. */
export function readout(bench, laid) {
  const values = el("div", { class: "scroll", role: "region", tabindex: 0, "aria-label": "Values at the cursor" });
  const budget = el("div", { class: "budget" });
  // The picture has its place before it is there, so that nothing below it moves when it comes.
  const sight = el("div", { class: "scroll", role: "region", tabindex: 0, "aria-label": "The straight line" },
    el("div", { class: "lines-place quiet-words" }, "Being drawn …"));
  const legend = el("figcaption", {}, lineWords(bench.hz));
  const lines = el("figure", { class: "lines" }, sight, legend);
  const all = el("details", { class: "all-values" }, el("summary", {}, "All values as a table"),
    el("div", { class: "scroll", role: "region", tabindex: 0, "aria-label": "All values" }));
  let shown = "";

  // The cursor passes many frequencies: a table with the same rows is written over, which the browser lays out faster.
  let rows = { of: "", node: null };
  const tabulate = (hz) => {
    const curves = [bench.curve, ...laid()];
    const names = curves.map((one, k) => (k ? one.label : "this session"));
    const of = [DARK.matches, ...names].join("\n");
    const words = curves.map((one) => row(one, hz));
    const caption = `At ${hertz(hz, 4)}`;
    if (rows.of === of) {
      overwrite(rows.node.caption, caption);
      words.forEach((cells, k) => cells.forEach((cell, i) => overwrite(rows.node.tBodies[0].rows[k].cells[i + 1], cell)));
      return;
    }
    rows = { of, node: table(caption, HEADS, words.map((cells, k) => [[lineSample(lookOf(k)), names[k]], ...cells])) };
    fill(values, rows.node);
  };
  const tell = () => {
    const c = bench.curve;
    const i = bandAt(c, bench.hz);
    if (i < 0) return;
    const hz = c.bands.frequency_hz[i];
    band = i;
    tabulate(hz);
    fill(budget, ...bars(c, i));
    picture(hz);
  };
  let timer = 0;
  const show = (drawn, words) => {
    sight.hidden = !drawn;
    fill(sight, drawn);
    fill(legend, words);
  };
  const picture = (hz) => {
    clearTimeout(timer);
    if (bench.curve.route === "power") {
      shown = "";
      return show(null, NO_LINE);
    }
    // The picture is drawn by the program: only where the cursor rests.
    timer = setTimeout(() => {
      const theme = DARK.matches ? "dark" : "light";
      const source = bench.path("lines") + query({ hz, theme, of: bench.curve?.measured_at });
      if (source === shown) return;
      shown = source;
      const image = el("img", { alt: `The takes at ${hertz(hz)}: one over the recorded level against the load admittance. The straight line through them gives Z.`, width: 680, height: 440 });
      image.addEventListener("load", () => show(image, lineWords(hz)));
      image.addEventListener("error", () => show(null, NO_LINE));
      image.src = source;
    }, 200);
  };
  const listAll = () => {
    if (!all.open || !bench.curve) return;
    const b = bench.curve.bands;
    fill(all.lastElementChild, table("Every band of this session", ["Frequency", ...HEADS.slice(1)],
      b.frequency_hz.map((hz) => [hertz(hz, 4), ...row(bench.curve, hz)])));
  };
  all.addEventListener("toggle", listAll);
  DARK.addEventListener("change", tell);
  bench.watchCurve(() => {
    tell();
    listAll();
  });
  // The cursor passes many bands in one picture: what it stands on is told once for each.
  let planned = 0;
  let band = -1;
  bench.watchHz(() => {
    if (planned || bandAt(bench.curve, bench.hz) === band) return;
    planned = requestAnimationFrame(() => {
      planned = 0;
      tell();
    });
  });
  bench.leaving(() => {
    clearTimeout(timer);
    cancelAnimationFrame(planned);
    DARK.removeEventListener("change", tell);
  });
  return { tell, node: el("div", { class: "reading" }, el("div", { class: "reading-values" }, values, budget, all), lines) };
}

const HEADS = ["Curve", "|Z|", "Phase", "R", "X", "Signal over noise"];
const NO_LINE = "There is no straight line to show here: it needs takes that lie in the folder and are compared with phase.";
const lineWords = (hz) => `1/D against load admittance at ${hertz(hz)}. If the points leave the line, a load or a take is not what it was said to be.`;

const overwrite = (node, words) => {
  if (node.textContent !== words) node.textContent = words;
};

/** What a curve says at a frequency, in the columns after its name. */
function row(curve, hz) {
  const b = curve.bands;
  const i = bandAt(curve, hz);
  if (i < 0 || Math.abs(Math.log(b.frequency_hz[i] / hz)) > 0.2) return ["no value here", "", "", "", ""];
  const ohm = (v) => (v === null ? "–" : `${significant(v, 4)} Ω`);
  return [bandOhms(b, i), b.phase_deg[i] === null ? "–" : plusMinus(b.phase_deg[i], b.phase_u95_deg[i], "°"), ohm(b.resistance_ohm[i]), ohm(b.reactance_ohm[i]),
    b.snr_db[i] === null ? "–" : decibels(b.snr_db[i], 0)];
}

/** Where the uncertainty of the band comes from, largest first; shares are those of the variance. */
function bars(curve, i) {
  const parts = (curve.budget?.components ?? []).map((name, k) => ({ name: ORIGINS[name] ?? name, u: curve.budget.ohm[k]?.[i] ?? null }))
    .filter((p) => p.u !== null).sort((a, b) => b.u - a.u);
  const sum = parts.reduce((s, p) => s + p.u * p.u, 0);
  if (!sum) return [el("p", { class: "quiet-words" }, "Where the uncertainty comes from is not told for this band.")];
  return [el("h3", {}, "Where the uncertainty comes from"), el("ul", {}, parts.map((p) => {
    const bar = el("span", { class: "budget-bar" });
    bar.style.width = `${100 * p.u * p.u / sum}%`;
    return el("li", {}, el("span", { class: "budget-name" }, p.name), el("span", { class: "budget-room" }, bar),
      el("span", { class: "budget-words" }, `${small(p.u)} Ω, ${small(100 * p.u * p.u / sum)} %`));
  })), el("p", { class: "hint" }, "Standard uncertainties of |Z|; percent of the variance.")];
}

/** Two digits, but nothing smaller than anybody could care for. */
const small = (v) => (v < 0.01 ? "< 0.01" : significant(v, 2));
