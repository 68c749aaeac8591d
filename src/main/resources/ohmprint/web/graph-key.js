// What stands beside a plot in words: which line is which, their values at the cursor, and everything as a table.
import { el, fill, svg, table } from "./dom.js";
import { nearest } from "./graph-lines.js";
import { hertz } from "./format.js";

/** Dashes of lines that are compared, so that colour is not the only difference. */
export const DASHES = [[], [8, 4], [3, 3], [10, 3, 2, 3], [5, 5], [14, 5]];

/** A short piece of the line, in its colour and dash. */
export function sample(line) {
  return svg("svg", { width: 34, height: 12, viewBox: "0 0 34 12", "aria-hidden": "true", focusable: "false" },
    line.band ? svg("rect", { x: 0, y: 1, width: 34, height: 10, fill: line.ink, "fill-opacity": line.bandOnly ? 0.35 : 0.2 }) : null,
    line.pointsOnly ? svg("circle", { cx: 17, cy: 6, r: 4, fill: line.ink }) : line.bandOnly ? null : svg("line", { x1: 0, x2: 34, y1: 6, y2: 6, stroke: line.ink, "stroke-width": line.thin ? 1.2 : 2.4,
      "stroke-dasharray": line.dash.join(" ") || null }));
}

/** What a line says at a frequency, or null where it says nothing: a line holds between its bands, single points do not. */
function wordsAt(line, hz) {
  if (!line.hz.length) return null;
  const i = nearest(line.hz, hz);
  return Math.abs(Math.log(line.hz[i] / hz)) < (line.pointsOnly ? 0.01 : 0.2) ? line.words(i) : null;
}

/**
 * The key of a plot: `{node, tell(hz)}`. Lines come with `ink`, `dash`, `label` and `words(i)`, which says the value with
 * index i of the line; `tell(null)` shows no values.
 */
export function keyOf(lines) {
  const at = el("p", { class: "graph-at" });
  const values = lines.map(() => el("span", { class: "graph-value" }));
  const named = lines.filter((line) => !line.unnamed);
  const node = el("div", { class: "graph-key" }, at, el("ul", {}, named.map((line) =>
    el("li", {}, sample(line), el("span", {}, line.label), values[lines.indexOf(line)]))));
  return {
    node,
    tell(hz) {
      fill(at, hz === null ? "" : `At ${hertz(hz)}`);
      lines.forEach((line, i) => fill(values[i], hz === null ? "" : wordsAt(line, hz) ?? ""));
    },
    /** The same in one sentence, for a screen reader. */
    sentence: (hz) => `${hertz(hz)}: ` + named.map((line) => [line.label, wordsAt(line, hz)]).filter(([, words]) => words !== null)
      .map(([label, words]) => `${label} ${words}`).join("; "),
  };
}

/** All values as a table, made when it is opened; `refresh()` shows other values of its lines. */
export function asTable(title, lines) {
  const place = el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": `Values of ${title}` });
  const node = el("details", { class: "graph-table" }, el("summary", {}, "The values as a table"), place);
  node.refresh = () => {
    if (!node.open) return;
    const named = lines.filter((line) => !line.unnamed);
    const hz = [...new Map(named.flatMap((line) => line.hz).map((f) => [f.toPrecision(7), f])).values()].sort((a, b) => a - b);
    const rows = hz.map((f) => [hertz(f), ...named.map((line) => {
      const j = nearest(line.hz, f);
      return Math.abs(line.hz[j] / f - 1) < 1e-3 ? line.words(j) : "";
    })]);
    fill(place, table(title, ["Frequency", ...named.map((line) => line.label)], rows));
  };
  node.addEventListener("toggle", node.refresh);
  return node;
}
