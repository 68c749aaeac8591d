// The divider with its real values, each edited where it stands in the drawing.
import { drawDivider } from "./circuit-diagram.js";
import { el, fill, svg } from "./dom.js";
import { field, readNumber, readOhms } from "./fields.js";
import { TRANSDUCERS, hertz, bandOhms, ohms, ohmsField, significant } from "./format.js";
import { bandAt } from "./bands.js";

const KINDS = [["", "not said"], ...TRANSDUCERS];

/** The drawing with its fields. */
export function divider(bench) {
  const picture = svg("svg", { class: "circuit", "aria-hidden": "true", focusable: "false" });
  const places = { microphone: place(), load: place(), input: place() };
  const box = el("div", { class: "divider" }, picture,
    station("microphone", "Microphone", places.microphone, microphone(bench)),
    station("load", "Load", places.load, load(bench)),
    station("input", "Recording input", places.input, input(bench)));
  const draw = () => drawDivider(picture, box, places, {
    open: shownLoad(bench.state, bench.selected)?.ohm === "open",
    unknown: bench.state.input?.resistance_ohm === "unknown",
    words: {
      load: shownLoad(bench.state, bench.selected) ? ohms(shownLoad(bench.state, bench.selected).ohm) : "",
      input: bench.state.input?.curve ? "" : bench.state.input?.resistance_ohm === "unknown" ? "?" : ohms(bench.state.input?.resistance_ohm),
      capacitance: bench.state.input?.capacitance_pf ? `${significant(bench.state.input.capacitance_pf)} pF` : "",
    },
  });
  const watcher = new ResizeObserver(draw);
  [box, ...Object.values(places)].forEach((n) => watcher.observe(n));
  bench.leaving(() => watcher.disconnect());
  bench.watch(draw);
  return el("section", { class: "sheet", "aria-labelledby": "divider-title" },
    el("h2", { id: "divider-title" }, "The divider"), box);
}

const place = () => el("div", { class: "place" });

const station = (kind, title, spot, parts) => el("div", { class: `station ${kind}`, role: "group", "aria-label": title }, spot,
  el("div", { class: "values" }, el("h3", {}, title), parts));

/** A field that is saved when it is left or Enter is pressed, and does not change under the writer's hands. */
function saved(bench, options, read, save) {
  const made = field(options);
  let shown = "";
  const store = async () => {
    if (made.input.value === shown) return made.error(null);
    try {
      const value = read(made.input.value);
      made.error(null);
      const written = made.input.value;
      await save(value);
      shown = written;
    } catch (error) {
      made.error(error.message);
    }
  };
  made.input.addEventListener("change", store);
  return {
    ...made,
    show(value) {
      const text = value ?? "";
      if (made.input.value !== shown && made.input.value !== "" && document.activeElement === made.input) return;
      shown = String(text);
      if (made.input.value !== shown) made.input.value = shown;
    },
  };
}

const words = (text) => text.trim() || null;
const ohmsOrNothing = (text) => (text.trim() ? readOhms(text) : null);

function microphone(bench) {
  const save = (key) => (value) => bench.send("PUT", ["microphone"], { [key]: value });
  const one = (key, label, read, more = {}) => [key, saved(bench, { label, ...more }, read, save(key))];
  const fields = new Map([
    one("label", "Name", (t) => { if (!t.trim()) throw new Error("A microphone needs a name."); return t.trim(); }),
    one("transducer", "Kind", words, { choices: KINDS }),
    one("rated_impedance_ohm", "Rated impedance", ohmsOrNothing, { unit: "Ω", inputmode: "decimal" }),
    one("rated_minimum_load_ohm", "Least load allowed", ohmsOrNothing, { unit: "Ω", inputmode: "decimal" }),
    one("maker", "Maker", words), one("model", "Model", words), one("serial", "Serial number", words),
  ]);
  const found = el("p", { class: "found", "aria-live": "off" });
  bench.watch((state) => fields.forEach((f, key) => f.show(state.microphone?.[key])));
  const tell = () => {
    const i = bandAt(bench.curve, bench.hz);
    fill(found, i < 0 ? "Z is not known yet" : ["|Z| ", el("strong", {}, bandOhms(bench.curve.bands, i)),
      ` at ${hertz(bench.curve.bands.frequency_hz[i])}`]);
  };
  bench.watchCurve(tell);
  bench.watchHz(tell);
  const nodes = [...fields.values()].map((f) => f.node);
  return [found, ...nodes.slice(0, 4), el("details", {}, el("summary", {}, "Maker, model, serial"), nodes.slice(4))];
}

/** The load in the drawing: that of the take that is recorded next or waits, else of the chosen one, else of the last. */
export function shownLoad(state, selected) {
  const r = state.recorder;
  const chosen = state.takes.find((t) => t.file === selected);
  if (r?.step === "level" || r?.trial) return { ohm: r.level_ohm, words: "for the level" };
  if (r?.take && r.step === "judge") return { ohm: r.take.load_ohm, words: `of ${r.take.file}, which waits for a verdict` };
  if (r && ["fit", "sounding"].includes(r.step) && r.next_ohm !== null) return { ohm: r.next_ohm, words: "to fit for the next take" };
  const take = chosen ?? state.takes.at(-1);
  if (take) return { ohm: take.load_ohm, take, words: `of ${take.file}` };
  return state.planned_ohm?.length ? { ohm: state.planned_ohm[0], words: "planned first" } : null;
}

function load(bench) {
  const save = (key) => (value) => {
    const take = shownLoad(bench.state, bench.selected)?.take;
    return bench.send("PUT", ["takes", take.file], { [key]: value });
  };
  const ohm = saved(bench, { label: "Resistance", unit: "Ω", hint: "or “open” for none" }, (t) => readOhms(t, ["open"]), save("load_ohm"));
  const tolerance = saved(bench, { label: "Tolerance", unit: "%", inputmode: "decimal" },
    (t) => readNumber(t, "Tolerance", "percent", { min: 0, max: 50 }), save("load_tolerance_percent"));
  const told = el("p", { class: "found" });
  const plan = el("p", { class: "hint" });
  const edit = el("div", { class: "edit" }, ohm.node, tolerance.node);
  bench.watch((state) => {
    const now = shownLoad(state, bench.selected);
    fill(told, now ? [el("strong", {}, ohms(now.ohm)), " ", now.words] : "No take yet");
    edit.hidden = !now?.take;
    if (now?.take) {
      ohm.show(ohmsField(now.take.load_ohm));
      tolerance.show(now.take.load_tolerance_percent);
    }
    const still = state.recorder?.remaining_ohm ?? state.planned_ohm ?? [];
    fill(plan, still.length ? `To come: ${still.map((o) => ohms(o)).join(", ")}` : "");
  });
  return [told, edit, plan];
}

function input(bench) {
  const save = (key) => (value) => bench.send("PUT", ["input"], { [key]: value });
  const ohm = saved(bench, { label: "Resistance", unit: "Ω", hint: "or “unknown”" }, (t) => readOhms(t, ["unknown"]), save("resistance_ohm"));
  const tolerance = saved(bench, { label: "Tolerance", unit: "%", inputmode: "decimal" },
    (t) => readNumber(t, "Tolerance", "percent", { min: 0, max: 50 }), save("resistance_tolerance_percent"));
  const farads = saved(bench, { label: "Capacitance with cable", unit: "pF", inputmode: "decimal" },
    (t) => readNumber(t, "Capacitance", "picofarads", { min: 0, max: 1e6, empty: 0 }), save("capacitance_pf"));
  const told = el("p", { class: "hint" });
  const found = el("p", { class: "found" });
  bench.watch((state) => {
    const given = state.input ?? {};
    ohm.show(ohmsField(given.resistance_ohm));
    tolerance.show(given.resistance_tolerance_percent);
    farads.show(given.capacitance_pf);
    fill(found, el("strong", {}, given.curve ? "as measured" : ohms(given.resistance_ohm)), given.capacitance_pf ? ` ∥ ${significant(given.capacitance_pf)} pF` : "");
    fill(told, given.curve ? ["Taken from ", el("code", {}, given.curve)]
      : given.resistance_ohm === "unknown" ? "All ohms are then those of the microphone in parallel with this input." : "");
  });
  return [found, told, ohm.node, tolerance.node, farads.node];
}
