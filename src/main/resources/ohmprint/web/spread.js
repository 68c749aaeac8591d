// How the units of one model differ, and how their range becomes a specification.
import { at, get, put, query } from "./api.js";
import { busy, el, fill, notice } from "./dom.js";
import { field } from "./fields.js";
import { graph } from "./graph.js";
import { magnitudeLine } from "./graph-lines.js";
import { save } from "./download.js";
import { bandOhms, count, hertz, ohms } from "./format.js";

const MOST_OFFERED = 500;

/** The models of the library: `[{maker, model, units}]`, by name. */
async function models() {
  const { entries } = await get("/api/library" + query({ limit: MOST_OFFERED }));
  const found = new Map();
  for (const e of entries.filter((one) => one.model)) {
    const key = `${e.maker ?? ""}\n${e.model}`;
    const known = found.get(key) ?? { maker: e.maker, model: e.model, units: new Set() };
    found.set(key, { ...known, units: known.units.add(e.serial ?? e.label) });
  }
  return [...found.values()].sort((a, b) => a.model.localeCompare(b.model));
}

function plot(place, { spread, curves }) {
  const of = (key) => spread.bands.map((b) => b[key]);
  const [frequencies, middle, low, high] = ["frequency_hz", "median_ohm", "low_ohm", "high_ohm"].map(of);
  const range = { label: "5 % to 95 % of the units", hz: frequencies, value: middle, low, high, colour: "quiet",
    bandOnly: true, words: (i) => `${ohms(low[i])} to ${ohms(high[i])}` };
  const median = { label: "Median", hz: frequencies, value: middle, colour: "ink", words: (i) => ohms(middle[i], 4) };
  const units = spread.units.map(({ label }, i) => ({ ...magnitudeLine({ label, bands: curves[i] }), low: undefined, high: undefined, colour: i, dashed: i, thin: true,
    words: (j) => bandOhms(curves[i], j) }));
  const hz = 1000;
  return graph(place, { title: "Magnitude of the source impedance of the units, in Ω over Hz", log: true, height: 20, hz, lines: [range, median, ...units] });
}

/** Keeping the range as a specification under a name. */
function keep(told, workspace) {
  const name = field({ label: "Name of the specification", value: `Spread of ${told.spread.model}` });
  const operator = field({ label: "Kept by", value: workspace.operator ?? "" });
  const go = el("button", { type: "submit", class: "main" }, "Keep as a specification");
  return el("form", { class: "stacked", novalidate: true, onsubmit: (event) => {
    event.preventDefault();
    for (const one of [name, operator]) one.error(one.input.value.trim() ? null : "This is empty; fill it in.");
    if (!name.input.value.trim() || !operator.input.value.trim()) return;
    busy(go, async () => {
      const kept = name.input.value.trim();
      await put(at("specifications", kept), { yaml: told.specification_yaml, operator: operator.input.value.trim() });
      notice(`${kept} is kept; it can be chosen when a curve is checked.`, "good");
    });
  } }, el("div", { class: "columns" }, name.node, operator.node), el("p", { class: "row" }, go,
    el("button", { type: "button", onclick: () => save(new Blob([told.specification_yaml], { type: "application/yaml" }), `${told.spread.model}.yaml`) }, "Save it as a file")),
  el("details", {}, el("summary", {}, "Read it"), el("pre", { class: "scroll", tabindex: 0, role: "region", "aria-label": "The specification as YAML" }, told.specification_yaml)));
}

/** Shows the spread of the model of the address, or asks for one. */
export async function show(stage, address) {
  const workspace = await get("/api/workspace");
  const known = workspace.has_library ? await models() : [];
  const model = field({ label: "Model", name: "model", list: "models", value: address.query.get("model") ?? "" });
  const maker = field({ label: "Maker", name: "maker", hint: "empty for any", value: address.query.get("maker") ?? "" });
  const go = el("button", { type: "submit", class: "main" }, "Show the spread");
  const result = el("div", { class: "stacked" });
  let end = () => {};

  const work = async () => {
    const asked = { model: model.input.value.trim(), maker: maker.input.value.trim() };
    model.error(asked.model ? null : "Name the model, as it is written in the library.");
    if (!asked.model) return void model.input.focus();
    address.replace(asked);
    end();
    end = () => {};
    fill(result);
    const told = await get("/api/spread" + query(asked));
    const { spread } = told;
    const place = el("section", { class: "sheet", "aria-label": "Spread" });
    fill(result, place,
      el("div", { class: "halves" },
        el("section", { class: "sheet" }, el("h2", {}, `${count(spread.units.length, "unit")} of ${[spread.maker, spread.model].filter(Boolean).join(" ")}`),
          el("ul", {}, spread.units.map((u) => el("li", {}, el("a", { href: `/library/${u.id}` }, u.label), " ", el("code", { class: "quiet-words" }, u.id)))),
          spread.notes.map((n) => el("p", {}, n)),
          el("p", {}, el("a", { href: "/compare" + query({ curves: spread.units.slice(0, 6).map((u) => `library:${u.id}`).join(",") }) }, "Compare the units"))),
        el("section", { class: "sheet" }, el("h2", {}, "As limits for others of its kind"), keep(told, workspace))));
    const drawn = plot(place, told);
    end = () => drawn.dispose();
    place.prepend(el("p", { class: "quiet-words" }, `From ${hertz(spread.bands[0].frequency_hz)} to ${hertz(spread.bands[spread.bands.length - 1].frequency_hz)}; of each unit its newest measurement.`));
  };
  stage.append(el("h1", {}, "Spread of a model"),
    el("form", { class: "sheet stacked", novalidate: true, onsubmit: (event) => {
      event.preventDefault();
      busy(go, work);
    } }, el("div", { class: "columns" }, model.node, maker.node), el("datalist", { id: "models" }, [...new Set(known.map((k) => k.model))].map((m) => el("option", { value: m }))),
    el("p", { class: "row" }, go),
    known.length ? el("p", {}, "In the library: ", known.map((k, i) => [i ? ", " : "", el("a", { href: "/spread" + query({ model: k.model, maker: k.maker }) },
      `${[k.maker, k.model].filter(Boolean).join(" ")} (${count(k.units.size, "unit")})`)]))
      : el("p", {}, "The library holds no measurement that names a model.")), result);
  if (model.input.value) {
    try {
      await work();
    } catch (error) {
      fill(result, el("p", { class: "finding bad", role: "alert" }, error.message));
    }
  }
  return () => end();
}
