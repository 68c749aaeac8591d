// The sheet that goes back with a microphone: what is on it, and in which form.
import { get, query } from "./api.js";
import { busy, el, fill } from "./dom.js";
import { field, readField, readNumber } from "./fields.js";
import { curveField, offered } from "./curves.js";
import { download } from "./download.js";

const FORMS = [["pdf", "PDF, to print or to send"], ["html", "a page for the browser"]];
const PAPERS = [["a4", "A4"], ["letter", "Letter"]];

/** Reads an optional number. */
const number = (one, name, unit, bounds) => readField(one, (text) => readNumber(text, name, unit, { empty: null, ...bounds }));

/** Shows the choices for a report of the curve of the address. */
export async function show(stage, address) {
  const given = (name, otherwise = "") => address.query.get(name) ?? otherwise;
  const [workspace, choices] = await Promise.all([get("/api/workspace"), offered()]);
  const { names } = workspace.has_library ? await get("/api/specifications") : { names: [] };
  const curve = curveField("Curve", choices, given("curve"), "choose a curve");
  const form = field({ label: "Form", choices: FORMS, value: given("form", "pdf") });
  const paper = field({ label: "Paper", choices: PAPERS, value: given("paper", "a4") });
  const specification = field({ label: "Check it against", choices: [["", "nothing"], ...names.map((n) => [n, n])], value: given("specification") });
  const compared = curveField("Compare with an earlier curve of it", choices, given("compared"), "none", { hint: "as before a repair" });
  const sensitivity = field({ label: "Sensitivity at 1 kHz", unit: "mV/Pa", inputmode: "decimal", value: given("sensitivity_mv"), hint: "adds level and noise for usual inputs" });
  const spl = field({ label: "Sound pressure of the source", unit: "dB", inputmode: "decimal", value: given("spl_db"), hint: "94 unless stated" });
  const go = el("button", { type: "submit", class: "main" }, "Make the report");
  const different = el("div", { "aria-live": "polite" });
  let turn = 0;
  // Before and after is a claim about one microphone.
  const compareable = async () => {
    const mine = ++turn;
    const both = [compared.input.value, curve.input.value];
    const told = both.every(Boolean) && both[0] !== both[1] ? await get("/api/compare" + query({ curves: both.join(",") })).catch(() => null) : null;
    if (mine === turn) fill(different, told?.differences[0]?.warning ? el("p", { class: "finding" }, told.differences[0].warning) : null);
  };
  [curve, compared].forEach((one) => one.input.addEventListener("change", compareable));
  compareable();
  const papered = () => { paper.node.hidden = form.input.value !== "pdf"; };
  form.input.addEventListener("change", papered);
  papered();
  const work = async () => {
    curve.error(curve.input.value ? null : "No curve is chosen; choose the one to report on.");
    if (!curve.input.value) return void curve.input.focus();
    const asked = { curve: curve.input.value, form: form.input.value, paper: form.input.value === "pdf" ? paper.input.value : "",
      specification: specification.input.value, compared: compared.input.value,
      sensitivity_mv: number(sensitivity, "Sensitivity", "millivolts per pascal", { min: 0 }), spl_db: number(spl, "Sound pressure", "decibels", { min: 0, max: 200 }) };
    if (asked.spl_db !== null && asked.sensitivity_mv === null) {
      sensitivity.error("Sound pressure is given without a sensitivity; give the sensitivity as well.");
      sensitivity.input.focus();
      return;
    }
    address.replace(asked);
    await download("/api/report" + query(asked), `report.${asked.form}`);
  };
  const group = (legend, ...all) => el("fieldset", {}, el("legend", {}, legend), el("div", { class: "columns" }, all.map((one) => one.node)));
  stage.append(el("h1", {}, "Report"),
    el("p", {}, "A sheet to hand over: the result with its uncertainty, what it means for inputs, and how it was measured."),
    el("form", { class: "sheet stacked", novalidate: true, onsubmit: (event) => {
      event.preventDefault();
      busy(go, work);
    } }, group("What", curve, compared, specification), different, group("Level and noise", sensitivity, spl), group("How", form, paper), el("p", { class: "row" }, go),
    workspace.workshop ? el("p", { class: "quiet-words" }, `With name and address from ${workspace.workshop}.`)
      : el("p", { class: "quiet-words" }, "A file workshop.yaml in the workspace, with name, address and logo, is put at the head.")));
}
