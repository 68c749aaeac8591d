// Computing the curve by hand: bands and route to choose, what came out, and what to do when nothing did.
import { post } from "./api.js";
import { findings } from "./verdict-view.js";
import { busy, button, el, fill } from "./dom.js";
import { field } from "./fields.js";

const BANDS = [["1", "octaves"], ["3", "thirds of an octave"], ["6", "sixths"], ["12", "twelfths"], ["24", "twenty-fourths"]];
const ROUTES = [["auto", "as the evidence allows"], ["reference", "reference"], ["stimulus", "stimulus"], ["common", "common"], ["power", "power"]];

/** A folded form; it opens by itself when the evidence supports no curve. */
export function measuring(bench) {
  const bands = field({ label: "Bands", choices: BANDS, value: "12" });
  const route = field({ label: "Route", choices: ROUTES, value: "auto" });
  const answer = el("div", { "aria-live": "polite" });
  const progress = el("progress", { max: 1, hidden: true, "aria-label": "Measuring" });
  const run = async (force) => {
    fill(answer);
    try {
      bench.curveCame(await post(bench.path("measure"), { bands: Number(bands.input.value), route: route.input.value, force }));
    } catch (error) {
      if (error.status !== 422) throw error;
      const anyway = button("Draw it all the same", () => busy(anyway, () => run(true)));
      fill(answer, el("p", { class: "finding bad" }, error.message), findings(error.body?.findings), el("p", { class: "row" }, anyway));
    } finally {
      progress.hidden = true;
    }
  };
  const go = button("Measure", () => run(false), { class: "main" });
  bench.watchMeasuring((doing) => {
    progress.hidden = doing.share >= 1;
    progress.value = doing.share ?? 0;
    progress.setAttribute("aria-label", doing.doing ?? "Measuring");
  });
  const node = el("details", { class: "measuring" }, el("summary", {}, "Measure again"),
    el("div", { class: "row" }, bands.node, route.node, go), answer);
  const words = node.firstElementChild;
  bench.watch((s) => {
    const label = bench.curve || s.has_curve ? "Measure again" : "Measure";
    if (words.textContent !== label) words.textContent = label;
    node.hidden = s.takes.length < 2;
    if (!bench.curve && !s.has_curve) node.open = true;
  });
  bench.watchCurve((c) => c && fill(answer));
  return el("div", { class: "measuring-place" }, progress, node);
}
