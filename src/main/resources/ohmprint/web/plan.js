// The planner: which resistors to record with, before anything is recorded.
import { post } from "./api.js";
import { busy, el, fill } from "./dom.js";
import { field, readNumber, readOhms } from "./fields.js";
import { curveField, offered } from "./curves.js";
import { assumed, planTable } from "./plan-table.js";
import { cautions } from "./verdict-view.js";
import { TRANSDUCERS } from "./format.js";

const KINDS = [["", "choose, or give ohms"], ...TRANSDUCERS.filter(([one]) => one !== "other")];
const SERIES = [["E12", "E12, twelve values a decade"], ["E24", "E24, twenty-four"], ["E96", "E96, ninety-six"]];

function fields(address, choices) {
  const given = (name, otherwise = "") => address.query.get(name) ?? otherwise;
  const number = (label, unit, name, otherwise, more = {}) =>
    field({ label, unit, name, inputmode: "decimal", value: given(name, otherwise), ...more });
  return {
    ohm: number("Impedance", "Ω", "ohm", "", { hint: "at all frequencies, as from a data sheet" }),
    transducer: field({ label: "or a usual microphone of a kind", name: "transducer", choices: KINDS, value: given("transducer") }),
    curve: curveField("or an earlier curve", choices, given("curve"), "none", { name: "curve" }),
    input: number("Resistance", "Ω", "input", "3000", { hint: "of the recording input; it lies in parallel with every load" }),
    inputTolerance: number("Tolerance", "%", "input_tolerance", "5"),
    inputPf: number("Capacitance with the cable", "pF", "input_pf", "0"),
    stock: field({ label: "In the drawer", unit: "Ω", name: "stock", value: given("stock"), hint: "such as 100, 220, 470, 1k; empty for a whole series" }),
    series: field({ label: "Series", name: "series", choices: SERIES, value: given("series", "E12") }),
    tolerance: number("Tolerance of the resistors", "%", "tolerance", "1"),
    minimum: number("Smallest load the maker allows", "Ω", "minimum", ""),
    drift: number("Drift of the level from take to take", "%", "drift", "0.05"),
    snr: number("Signal over noise", "dB", "snr", "40"),
    seconds: number("Length of the sweep", "s", "seconds", "10"),
    wanted: number("Wanted 95 % uncertainty", "%", "wanted", "", { hint: "tells the length of sweep that reaches it" }),
  };
}

/** What the fields say as a request; a field that cannot be read is marked, and null comes back. */
function request(f) {
  let sound = true;
  const read = (one, reader) => {
    one.error(null);
    try {
      return reader(one.input.value);
    } catch (error) {
      if (sound) one.input.focus();
      sound = false;
      one.error(error.message);
      return null;
    }
  };
  const ohmsOrNone = (text) => (text.trim() === "" ? null : readOhms(text));
  const number = (one, name, unit, bounds = { min: 0 }) => read(one, (text) => readNumber(text, name, unit, bounds));
  const ways = [f.ohm, f.transducer, f.curve].filter((one) => one.input.value.trim() !== "");
  f.ohm.error(null);
  if (ways.length !== 1) {
    f.ohm.error(`The expected impedance is stated in ${ways.length} ways; give ohms, or a kind, or a curve.`);
    f.ohm.input.focus();
    sound = false;
  }
  const expected = f.curve.input.value ? { curve: f.curve.input.value }
    : f.transducer.input.value ? { transducer: f.transducer.input.value } : { ohm: ways.length === 1 ? read(f.ohm, readOhms) : null };
  const stock = read(f.stock, (text) => text.split(/[,;\s]+/).filter((part) => part && part !== "open").map((part) => readOhms(part)));
  const asked = {
    expected, stock, series: f.series.input.value,
    input_ohm: read(f.input, readOhms), input_tolerance_percent: number(f.inputTolerance, "Tolerance", "percent"),
    input_pf: number(f.inputPf, "Capacitance", "picofarads"), tolerance_percent: number(f.tolerance, "Tolerance", "percent"),
    minimum_load_ohm: read(f.minimum, ohmsOrNone), drift_percent: number(f.drift, "Drift", "percent"),
    snr_db: number(f.snr, "Signal over noise", "decibels"), seconds: number(f.seconds, "Length", "seconds"),
    wanted_percent: number(f.wanted, "Wanted uncertainty", "percent", { min: 0, empty: null }),
  };
  return sound ? asked : null;
}

/** Shows the planner. */
export async function show(stage, address) {
  const choices = await offered();
  const f = fields(address, choices);
  const answer = el("section", { class: "sheet", "aria-live": "polite", "aria-label": "The plan", hidden: true });
  const group = (legend, ...all) => el("fieldset", {}, el("legend", {}, legend), el("div", { class: "columns" }, all.map((one) => one.node)));
  const go = el("button", { type: "submit", class: "main" }, "Find the loads");
  const named = Object.values(f);
  const work = async () => {
    const asked = request(f);
    if (!asked) return;
    address.replace(Object.fromEntries(named.map((one) => [one.input.name, one.input.value.trim()])));
    fill(answer, el("p", { class: "waiting" }, "Searching …"));
    answer.hidden = false;
    try {
      const plan = await post("/api/plan", asked);
      fill(answer, el("h2", {}, "Loads to record with"), el("p", { class: "quiet-words" }, assumed(plan)), planTable(plan));
    } catch (error) {
      answer.hidden = true;
      throw error;
    }
  };
  const form = el("form", { class: "sheet", novalidate: true, onsubmit: (event) => {
    event.preventDefault();
    busy(go, work);
  } },
  el("div", { class: "stacked" },
    group("What you expect", f.ohm, f.transducer, f.curve),
    group("Recording input", f.input, f.inputTolerance, f.inputPf),
    group("Resistors", f.stock, f.series, f.tolerance, f.minimum),
    el("details", {}, el("summary", {}, "Steadiness, noise and length"), el("div", { class: "columns" },
      [f.drift, f.snr, f.seconds, f.wanted].map((one) => one.node)))),
  el("p", { class: "row" }, go));
  stage.append(el("h1", {}, "Plan the loads"),
    el("p", {}, "Which resistors across pins 2 and 3 tell most about the impedance you expect? Best is the lowest predicted uncertainty in the worst band."),
    form, answer, cautions());
  if (address.query.has("input")) await work();
}
