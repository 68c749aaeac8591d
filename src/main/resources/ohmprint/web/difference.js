// How far this curve lies from one that is laid over it, in percent, with what the uncertainty leaves of it.
import { get, query } from "./api.js";
import { graph } from "./graph.js";
import { differenceLine } from "./graph-lines.js";
import { el, fill } from "./dom.js";
import { field, tick } from "./fields.js";
import { fixed, hertz } from "./format.js";

/** A section that is hidden until something is laid over; `among(curves)` says what there is to compare with. */
export function difference(bench) {
  const choice = field({ label: "Difference against", choices: [["", "none"]], value: "" });
  const same = tick("same resistors and input, so that their errors drop out");
  const place = el("div", {});
  const words = el("p", { "aria-live": "polite" });
  const node = el("div", { class: "difference", hidden: true }, el("div", { class: "row" }, choice.node, same.node), words, place);
  let plot = null;
  let turn = 0;

  const show = async () => {
    const ref = choice.input.value;
    const mine = ++turn;
    same.node.hidden = !ref;
    if (!ref || !bench.curve) {
      plot?.dispose();
      plot = null;
      fill(words, "");
      return;
    }
    try {
      const told = await get("/api/compare" + query({ curves: [bench.ref, ref].join(","), same_bench: same.input.checked || null }));
      if (mine !== turn) return;
      const d = told.differences[0];
      // The program tells the other against the first; a percentage of the first is shown.
      const line = differenceLine(d, { label: `${choice.input.selectedOptions[0].textContent} against this session`, colour: 1, words: (i) => bandWords(d.bands[i]) });
      plot?.dispose();
      plot = graph(place, { title: "Difference of |Z| in percent", least: 5, height: 12, lines: [line], hz: bench.hz, moved: (hz) => bench.at(hz) });
      fill(words, d.warning ? el("span", { class: "finding" }, d.warning) : null, sentence(d));
    } catch (error) {
      if (mine === turn) fill(words, el("span", { class: "error" }, error.message));
    }
  };
  choice.input.addEventListener("change", show);
  same.input.addEventListener("change", show);
  bench.watchCurve(() => choice.input.value && show());
  bench.watchHz((hz) => plot?.moveTo(hz));
  bench.leaving(() => plot?.dispose());
  return {
    node,
    among(curves) {
      const before = choice.input.value;
      fill(choice.input, el("option", { value: "" }, "none"), curves.map((c) => el("option", { value: c.ref }, c.label)));
      choice.input.value = curves.some((c) => c.ref === before) ? before : "";
      node.hidden = !curves.length;
      show();
    },
  };
}

const bandWords = (b) => (b.difference_percent === null ? "not determined"
  : `${fixed(b.difference_percent, 2)} % (${fixed(b.difference_low_percent, 2)} to ${fixed(b.difference_high_percent, 2)} %)`);

function sentence(d) {
  if (!d.bands_that_differ) return `No band differs beyond its uncertainty, of ${d.bands_compared} that both have.`;
  const where = (d.ranges ?? []).map((r) => `${hertz(r.from_hz)} to ${hertz(r.to_hz)} (most ${fixed(r.difference_percent, 1)} % at ${hertz(r.frequency_hz)})`);
  return `${d.bands_that_differ} of ${d.bands_compared} bands differ beyond their uncertainty: ${where.join(", ")}.`;
}
