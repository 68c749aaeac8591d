// The curve as it grows: |Z| above, phase below, others laid over it, one cursor for all, and a way to look closer.
import { graph, lookOf, together } from "./graph.js";
import { magnitudeLine, phaseLine } from "./graph-lines.js";
import { overlays } from "./overlays.js";
import { difference } from "./difference.js";
import { readout } from "./readout.js";
import { measuring } from "./measure-panel.js";
import { zoomBar } from "./zoom.js";
import { consistency, findings, verdict } from "./verdict-view.js";
import { announce, el, fill } from "./dom.js";
import { bandOhms, ohms, percent, plusMinus } from "./format.js";

const WHOLE = [20, 20_000];
const OWN = 0;

/** The section below the divider. It holds nothing but a sentence until there is a curve. */
export function curvePanel(bench) {
  const head = el("div", { class: "curve-head" });
  const plots = el("div", { class: "plots" });
  const told = el("div", {});
  const waiting = el("p", { class: "quiet-words curve-none" });
  const state = { graphs: null, laid: [] };
  const tools = el("div", { class: "curve-tools" });
  const zoom = zoomBar(WHOLE, (from, to) => state.graphs?.forEach((g) => g.show(from, to)));
  const differs = difference(bench);
  const over = overlays(bench, (laid) => {
    state.laid = laid;
    draw();
    reading.tell();
    differs.among(laid);
  });
  const reading = readout(bench, () => state.laid);
  const body = el("div", { hidden: true }, head, tools, plots, reading.node, differs.node, told);
  fill(tools, zoom.node, over.node);

  const moved = (hz) => bench.at(hz);
  const draw = () => {
    if (!bench.curve) return;
    const all = [bench.curve, ...state.laid];
    const more = (c, i) => ({ ...lookOf(i), label: i === OWN ? "this session" : c.label });
    const magnitude = all.map((c, i) => ({ ...magnitudeLine(c, more(c, i)), words: (j) => bandOhms(c.bands, j) }));
    const phase = all.map((c, i) => ({ ...phaseLine(c, more(c, i)), words: (j) => plusMinus(c.bands.phase_deg[j], c.bands.phase_u95_deg[j], "°") }));
    if (state.graphs) {
      state.graphs[0].update({ lines: magnitude });
      state.graphs[1].update({ lines: phase });
    } else {
      const shared = { hz: bench.hz, bare: true, chosen: zoom.to };
      const both = [];
      const move = together(both, moved);
      both.push(graph(plots, { ...shared, title: "Magnitude |Z| in Ω", log: true, height: 19, lines: magnitude, moved: move }));
      both.push(graph(plots, { ...shared, title: "Phase in degrees", least: 15, height: 11, lines: phase, moved: move }));
      state.graphs = both;
      zoom.tell();
    }
  };

  const stale = el("p", { class: "finding", hidden: true },
    "This curve is out of date: the session has changed since it was calculated. Calculate it again.");
  const old = el("span", { class: "word warn", hidden: true }, el("span", { "aria-hidden": "true" }, "? "), "out of date");
  const age = () => {
    const outdated = Boolean(bench.curve && bench.state.curve_outdated);
    if (outdated && stale.hidden) announce(stale.textContent);
    stale.hidden = !outdated;
    old.hidden = !outdated;
    plots.classList.toggle("old", outdated);
  };

  const show = (curve) => {
    body.hidden = !curve;
    waiting.hidden = Boolean(curve);
    if (!curve) return;
    const first = !state.graphs;
    age();
    fill(head, el("p", { class: "row" }, verdict(curve.verdict), old, el("span", {}, median(curve)), el("span", { class: "quiet-words" }, route(curve))),
      curve.parallel_with_input ? el("p", { class: "finding" }, "All ohms are those of the microphone in parallel with the input, because the input is not known.") : null);
    draw();
    fill(told, el("h3", {}, "What was noticed"), findings(curve.findings), consistency(curve),
      curve.advice?.length ? [el("h3", {}, "What to do"), el("ul", {}, curve.advice.map((a) => el("li", {}, a)))] : null);
    announce(`${first ? "The curve is here" : "The curve is drawn anew"}: ${curve.verdict}, ${median(curve)}`);
  };

  bench.watchCurve(show);
  bench.watch((s) => {
    age();
    fill(waiting, s.takes.length === 0 ? "The curve appears here with the second take and gets closer with each further one."
      : new Set(s.takes.map((t) => t.load_ohm)).size < 2 ? "One load is not enough for a curve: it appears with the second, different load."
        : "There is no curve yet. Measure the session, or see what is wrong with the takes.");
  });
  bench.leaving(() => state.graphs?.forEach((g) => g.dispose()));
  return el("section", { class: "sheet curve", "aria-labelledby": "curve-title" },
    el("div", { class: "row ends" }, el("h2", { id: "curve-title" }, "Output impedance"), measuring(bench)), stale, waiting, body);
}

/** The middle of the relative uncertainties, which tells how good the whole is. */
function median(curve) {
  const b = curve.bands;
  const all = b.magnitude_ohm.map((v, i) => (v && b.magnitude_u95_ohm[i] !== null ? 100 * b.magnitude_u95_ohm[i] / v : null))
    .filter((v) => v !== null).sort((a, c) => a - c);
  return all.length ? `± ${percent(all[all.length >> 1])} in the median band (95 %)` : "bounds only";
}

/** A load as it is stored, "2200 Ω" or "open", as the rest of the page writes it. */
const load = (words) => ohms(words.endsWith(" Ω") ? Number(words.slice(0, -2)) : words);

const route = (curve) => `${(curve.loads ?? []).map(load).join(", ")}; route ${curve.route}${curve.route_reason ? `: ${curve.route_reason}` : ""}`;
