// Beginning a session: microphone, recording input, loads, with the planner's advice in place.
import { latest, post } from "./api.js";
import { busy, el, fill } from "./dom.js";
import { field, readField, readNumber, readOhms, tick } from "./fields.js";
import { loadsInWords, planTable } from "./plan-table.js";
import { TRANSDUCERS } from "./format.js";

const KINDS = [["", "not stated"], ...TRANSDUCERS];
/** How long someone who types has to pause before the planner is asked. */
const PAUSE_MS = 300;
const ADVISED = new Set(["moving-coil", "ribbon", "condenser"]);

function fields() {
  return {
    label: field({ label: "What the bench calls it", name: "label", required: true }),
    transducer: field({ label: "Transducer", name: "transducer", choices: KINDS }),
    rated: field({ label: "Rated impedance", unit: "Ω", inputmode: "decimal", hint: "if known" }),
    minimum: field({ label: "Smallest load the maker allows", unit: "Ω", inputmode: "decimal", hint: "if known" }),
    maker: field({ label: "Maker" }),
    model: field({ label: "Model" }),
    serial: field({ label: "Serial number" }),
    input: field({ label: "Resistance", unit: "Ω", value: "unknown", inputmode: "text",
      hint: "in parallel with every load; without it the curve is that of both together" }),
    inputTolerance: field({ label: "Tolerance", unit: "%", value: "5", inputmode: "decimal" }),
    inputPf: field({ label: "Capacitance with the cable", unit: "pF", inputmode: "decimal", hint: "if known" }),
    loads: field({ label: "Loads", unit: "Ω", hint: "such as 220, 680, open; or leave it and say it with each recording" }),
    tolerance: field({ label: "Tolerance", unit: "%", value: "1", inputmode: "decimal", hint: "measured resistors are best" }),
  };
}

const orNull = (reader) => (text) => (text.trim() === "" ? null : reader(text));
const percentOf = (name) => orNull((text) => readNumber(text, name, "percent", { min: 0, max: 100 }));
const listOfLoads = (text) => text.split(/[,;]|\s+(?!k?Ω|resistor)/).map((p) => p.trim()).filter(Boolean).map((p) => readOhms(p, ["open"]));

function asked(f, repeat) {
  const text = (one) => one.input.value.trim() || null;
  const label = readField(f.label, (value) => {
    if (!value.trim()) throw new Error("The microphone has no name yet; write what is on its label, or what you call it.");
    return value.trim();
  });
  const loads = readField(f.loads, orNull(listOfLoads));
  return {
    microphone: { label, maker: text(f.maker), model: text(f.model), serial: text(f.serial), transducer: text(f.transducer),
      rated_impedance_ohm: readField(f.rated, orNull(readOhms)), rated_minimum_load_ohm: readField(f.minimum, orNull(readOhms)) },
    input: { resistance_ohm: readField(f.input, (value) => readOhms(value, ["unknown"])),
      resistance_tolerance_percent: readField(f.inputTolerance, percentOf("Tolerance of the input")),
      capacitance_pf: readField(f.inputPf, orNull((value) => readNumber(value, "Capacitance", "picofarads", { min: 0 }))) },
    loads: loads && { ohm: loads, tolerance_percent: readField(f.tolerance, percentOf("Tolerance of the loads")), repeat_first: repeat.input.checked },
  };
}

/** What the planner is asked with the little that is known, or null when it is too little. */
function question(f) {
  const quietly = (one, reader) => {
    try {
      return reader(one.input.value);
    } catch {
      return null;
    }
  };
  const ohm = quietly(f.rated, readOhms);
  const kind = f.transducer.input.value;
  const input = quietly(f.input, readOhms);
  if (input === null || (ohm === null && !ADVISED.has(kind))) return null;
  return { expected: ohm === null ? { transducer: kind } : { ohm }, input_ohm: input,
    input_tolerance_percent: quietly(f.inputTolerance, percentOf("")), input_pf: quietly(f.inputPf, (v) => readNumber(v, "", "", { min: 0 })),
    tolerance_percent: quietly(f.tolerance, percentOf("")), minimum_load_ohm: quietly(f.minimum, readOhms) };
}

/** The form; `open(name)` is called with the session that was begun. */
export function beginForm(open) {
  const f = fields();
  const repeat = tick("Record the first load once more at the end: it shows drift", true);
  const advice = el("div", { class: "advice", "aria-live": "polite" });
  const use = (set) => {
    const order = set.take_order_ohm;
    const repeats = order.length > 1 && order[order.length - 1] === order[0];
    f.loads.input.value = (repeats ? order.slice(0, -1) : order).join(", ");
    repeat.input.checked = repeats;
    f.loads.error(null);
    f.loads.input.focus();
  };
  const ask = latest((one) => (one ? post("/api/plan", one) : Promise.resolve(null)), (plan) => {
    if (!plan) return void fill(advice, el("p", { class: "hint" }, "With the rated impedance or the kind of transducer, and the resistance of the input, "
      + "the loads that tell most are shown here."));
    fill(advice, el("p", {}, "For ", plan.expected, ": best ", el("strong", {}, loadsInWords(plan.sets[0].loads_ohm)), "."),
      el("details", {}, el("summary", {}, "Choose among sets of loads"), planTable(plan, { use, most: 6, changes: false })));
  }, (error) => fill(advice, el("p", { class: "error" }, error.message)));
  let timer = 0;
  const advise = () => {
    clearTimeout(timer);
    timer = setTimeout(() => ask(question(f)), PAUSE_MS);
  };
  for (const one of [f.transducer, f.rated, f.minimum, f.input, f.inputTolerance, f.inputPf, f.tolerance]) one.input.addEventListener("input", advise);
  advise();
  const group = (legend, ...parts) => el("fieldset", {}, el("legend", {}, legend), parts);
  const grid = (...all) => el("div", { class: "columns" }, all.map((one) => one.node));
  const begin = el("button", { type: "submit", class: "main" }, "Begin the session");
  return el("section", { class: "sheet", "aria-labelledby": "begin-title" }, el("h2", { id: "begin-title" }, "Begin a session"),
    el("form", { class: "stacked", novalidate: true, onsubmit: (event) => {
      event.preventDefault();
      busy(begin, async () => open((await post("/api/sessions", asked(f, repeat))).name));
    } },
    group("Microphone", grid(f.label, f.transducer, f.rated, f.minimum),
      el("details", {}, el("summary", {}, "Maker, model, serial number"), grid(f.maker, f.model, f.serial))),
    group("Recording input", grid(f.input, f.inputTolerance, f.inputPf)),
    group("Loads across pins 2 and 3", grid(f.loads, f.tolerance), el("p", {}, repeat.node), advice),
    el("p", { class: "row" }, begin)));
}
