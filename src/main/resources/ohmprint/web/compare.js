// Curves laid over each other, and where they differ from the first by more than the uncertainty of both.
import { get, query } from "./api.js";
import { button, el, fill, notice, table } from "./dom.js";
import { tick } from "./fields.js";
import { curve, curveField, hrefOf, offered } from "./curves.js";
import { graph, together } from "./graph.js";
import { differenceLine, magnitudeLine } from "./graph-lines.js";
import { verdict } from "./verdict-view.js";
import { bandOhms, count, decimals, fixed, hertz } from "./format.js";

const MOST = 6;

/** Percent with sign and as many decimals as half the width of its interval leaves. */
const signed = (value, low, high) => `${value > 0 ? "+" : ""}${fixed(value, decimals((high - low) / 2))} %`;
const value = (b) => signed(b.difference_percent, b.difference_low_percent, b.difference_high_percent);
const interval = ({ difference_low_percent: low, difference_high_percent: high }) => `${signed(low, low, high)} to ${signed(high, low, high)}`;
const bandWords = (d) => (i) => `${value(d.bands[i])} (${interval(d.bands[i])})${d.bands[i].differs ? ", differs" : ""}`;

/** One difference in words: how many bands differ, and where. */
function inWords(d, first, other) {
  const head = d.bands_that_differ === 0 ? `no band of ${d.bands_compared} differs by more than the uncertainty explains`
    : `${d.bands_that_differ} of ${count(d.bands_compared, "band")} ${d.bands_that_differ === 1 ? "differs" : "differ"}`;
  return el("section", {}, el("h3", {}, `${other} against ${first}: ${head}`),
    d.warning ? el("p", { class: "finding" }, d.warning) : null,
    d.ranges.length ? el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": `Where ${other} differs` },
      table("Where it differs", ["Range", "Bands", "Largest difference", "95 % interval", "at"], d.ranges.map((r) => [
        r.bands === 1 ? hertz(r.from_hz) : `${hertz(r.from_hz)} to ${hertz(r.to_hz)}`, String(r.bands), value(r), interval(r), hertz(r.frequency_hz)]), { class: "cards" })) : null,
    el("p", { class: "quiet-words" }, d.assumed));
}

/** The labels of curves; those that are alike get their names besides. */
function distinct(curves) {
  const same = (c) => curves.filter((other) => other.label === c.label).length > 1;
  return curves.map((c) => (same(c) ? `${c.label} (${c.ref.replace(":", " ")})` : c.label));
}

/** The plots; returns what ends them. */
function plots(place, told, address) {
  const labels = distinct(told.curves);
  const hz = Number(address.query.get("hz")) || 1000;
  const both = [];
  const moved = together(both, (f) => address.replace({ hz: f.toFixed(1) }));
  both.push(graph(place, { title: "Magnitude of the source impedance with 95 % bands, in Ω over Hz", log: true, height: 19, hz, moved,
    lines: told.curves.map((c, i) => magnitudeLine(c, { label: labels[i], colour: i, dashed: i, words: (j) => bandOhms(c.bands, j) })) }));
  if (told.differences.length) {
    both.push(graph(place, { title: `Difference from ${labels[0]} with its 95 % interval, in percent over Hz; dots mark bands that differ`,
      least: 5, height: 13, hz, moved, lines: told.differences.map((d, i) => differenceLine(d, { label: labels[i + 1], colour: i + 1, dashed: i + 1, words: bandWords(d) })) }));
  }
  return () => both.forEach((one) => one.dispose());
}

/** Shows the comparison of the curves of the address. */
export async function show(stage, address) {
  const choices = await offered();
  const nameOf = (ref) => choices.find(([r]) => r === ref)?.[1] ?? ref.replace(":", " ");
  let refs = (address.query.get("curves") ?? "").split(",").filter(Boolean);
  let end = () => {};
  const list = el("div");
  const result = el("div", { class: "stacked" });
  const same = tick("Loads and input were the very same pieces in all of them", address.query.get("same_bench") === "true");

  const load = async () => {
    end();
    end = () => {};
    address.replace({ curves: refs.join(","), same_bench: same.input.checked ? "true" : "" });
    same.node.hidden = refs.length < 2;
    if (!refs.length) return void fill(result, el("p", {}, "Choose two curves or more; the first is what the others are compared with."));
    const told = refs.length === 1 ? { curves: [await curve(refs[0])], differences: [] }
      : await get("/api/compare" + query({ curves: refs.join(","), same_bench: same.input.checked ? "true" : "" }));
    const place = el("section", { class: "sheet", "aria-label": "Curves" });
    const labels = distinct(told.curves);
    fill(result, place, told.differences.length ? el("section", { class: "sheet", "aria-labelledby": "words-title" }, el("h2", { id: "words-title" }, "In words"),
      told.differences.map((d, i) => inWords(d, labels[0], labels[i + 1])),
      el("p", { class: "quiet-words" }, "Of the bands called different no more than 5 % are expected to be so by chance (Benjamini and Hochberg 1995).")) : null);
    end = plots(place, told, address);
    return told;
  };
  const again = async () => {
    try {
      const told = await load();
      drawList(told?.curves);
    } catch (error) {
      fill(result, el("p", { class: "finding bad", role: "alert" }, error.message));
      drawList(null);
    }
  };
  const change = (next) => {
    refs = next;
    return again();
  };
  function drawList(curves) {
    const add = curveField("Add a curve", choices.filter(([ref]) => !refs.includes(ref)), "", "choose");
    add.input.addEventListener("change", () => add.input.value && change([...refs, add.input.value]));
    fill(list, el("ol", { class: "chosen-curves" }, refs.map((ref, i) => el("li", {}, el("a", { href: hrefOf(ref) }, curves?.[i]?.label ?? nameOf(ref)), " ",
      curves?.[i] ? verdict(curves[i].verdict) : null, curves?.[i]?.outdated ? [" ", el("span", { class: "word warn" }, "? out of date")] : null, el("span", { class: "quiet-words" }, ` ${ref.replace(":", " ")}${i === 0 ? ", the others are compared with it" : ""}`),
      i > 0 ? button("Make it the first", () => change([ref, ...refs.filter((r) => r !== ref)]), { class: "quiet", "aria-label": `Make ${nameOf(ref)} the first` }) : null,
      button("Leave out", () => change(refs.filter((r) => r !== ref)), { class: "quiet", "aria-label": `Leave out ${nameOf(ref)}` })))),
    refs.length < MOST ? add.node : el("p", { class: "quiet-words" }, `${MOST} curves are the most.`));
  }
  same.input.addEventListener("change", again);
  if (refs.length > MOST) {
    notice(`${refs.length} curves were named; the first ${MOST} are compared.`);
    refs = refs.slice(0, MOST);
  }
  stage.append(el("h1", {}, "Compare curves"), el("section", { class: "sheet", "aria-label": "Which curves" }, list, same.node), result);
  await again();
  return () => end();
}
