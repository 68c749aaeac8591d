// Does a curve keep within limits? The limits come from the library, from a text, or are a rated impedance.
import { at, get, post, put, query } from "./api.js";
import { busy, el, fill, notice } from "./dom.js";
import { field, readField, readNumber, readOhms } from "./fields.js";
import { chooser } from "./files.js";
import { curve, curveField, offered } from "./curves.js";
import { verdictOf } from "./check-answer.js";

const WAYS = [["kept", "kept in the library"], ["rated", "a rated impedance"], ["text", "a text of my own"]];

/** A specification of one's own as the smallest text there is. */
const ratedText = (ohm, tolerance, hz) => `version: 1\nrated_impedance: {ohm: ${ohm}, tolerance_percent: ${tolerance}, at_hz: ${hz}}\n`;

function textArea() {
  const input = el("textarea", { id: "spec-text", rows: 10, spellcheck: "false", "aria-describedby": "spec-hint spec-error" });
  const file = chooser("Open a file", { accept: ".yaml,.yml" }, async ([one]) => { input.value = await one.text(); });
  const problem = el("span", { class: "error", id: "spec-error", role: "alert" });
  const error = (words) => {
    fill(problem, words ?? "");
    if (words) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
  };
  input.addEventListener("input", () => error(null));
  input.value = "version: 1\nmask:\n  - {from_hz: 50, to_hz: 10000, min_ohm: 150, max_ohm: 600}\n";
  return { input, error, node: el("div", { class: "field" }, el("label", { for: "spec-text" }, "Specification, YAML"), input, problem,
    el("span", { id: "spec-hint", class: "hint" }, "rated_impedance, mask, resonance and reference, as the page on specifications explains"),
    el("p", { class: "row" }, file)) };
}

/** The three ways to state limits: `{node, asked()}`; `asked()` gives what the server wants. */
function limits(address, names, rated) {
  const given = (name, otherwise) => address.query.get(name) ?? otherwise;
  const start = given("spec", "") ? "kept" : given("ohm", "") ? "rated" : names.length ? "kept" : "rated";
  const kept = field({ label: "Specification", choices: names.length ? names.map((n) => [n, n]) : [["", "the library keeps none"]], value: given("spec", names[0] ?? "") });
  const ohm = field({ label: "Rated impedance", unit: "Ω", inputmode: "decimal", value: given("ohm", rated ? String(rated) : "") });
  const tolerance = field({ label: "Tolerance", unit: "%", inputmode: "decimal", value: given("tolerance", "20") });
  const hz = field({ label: "at", unit: "Hz", inputmode: "decimal", value: given("at", "1000") });
  const text = textArea();
  const parts = { kept: el("div", { class: "columns" }, kept.node), rated: el("div", { class: "columns" }, ohm.node, tolerance.node, hz.node), text: text.node };
  const radios = WAYS.map(([way, words]) => {
    const input = el("input", { type: "radio", name: "way", value: way });
    input.checked = way === start;
    input.addEventListener("change", open);
    return { way, input, node: el("label", { class: "tick" }, input, el("span", {}, words)) };
  });
  const chosen = () => radios.find((r) => r.input.checked).way;
  function open() {
    for (const [way, part] of Object.entries(parts)) part.hidden = way !== chosen();
  }
  open();
  const node = el("fieldset", {}, el("legend", {}, "Limits"), el("p", { class: "row" }, radios.map((r) => r.node)), Object.values(parts));
  return {
    node,
    /** Whether a refusal is about the text, beside which it is then shown. */
    blamed(error) {
      if (chosen() !== "text" || error.status !== 400) return false;
      text.error(error.message);
      text.input.focus();
      return true;
    },
    suggest(value) {
      if (value && !ohm.input.value) ohm.input.value = String(value);
    },
    asked() {
      const way = chosen();
      if (way === "kept") {
        const name = readField(kept, (value) => {
          if (!value) throw new Error("The library keeps no specification; state a rated impedance or give a text.");
          return value;
        });
        return { body: { specification: name }, noted: { spec: name, ohm: "", tolerance: "", at: "" } };
      }
      if (way === "text") return { body: { yaml: text.input.value }, noted: { spec: "", ohm: "", tolerance: "", at: "" } };
      const [z, percent, f] = [readField(ohm, readOhms), readField(tolerance, (v) => readNumber(v, "Tolerance", "percent", { min: 0, max: 100 })),
        readField(hz, (v) => readNumber(v, "Frequency", "hertz", { min: 1 }))];
      return { body: { yaml: ratedText(z, percent, f) }, noted: { spec: "", ohm: z, tolerance: percent, at: f } };
    },
  };
}

/** Keeping a text of one's own under a name, once it was understood. */
function keepForm(yaml, workspace) {
  const name = field({ label: "Name", hint: "under which it can be chosen the next time" });
  const operator = field({ label: "Kept by", value: workspace.operator ?? "" });
  const go = el("button", { type: "submit" }, "Keep these limits");
  return el("details", {}, el("summary", {}, "Keep these limits in the library"), el("form", { class: "stacked", novalidate: true, onsubmit: (event) => {
    event.preventDefault();
    busy(go, async () => {
      for (const one of [name, operator]) readField(one, (v) => { if (!v.trim()) throw new Error("This is empty; fill it in."); });
      await put(at("specifications", name.input.value.trim()), { yaml, operator: operator.input.value.trim() });
      notice(`${name.input.value.trim()} is kept.`, "good");
    });
  } }, el("div", { class: "columns" }, name.node, operator.node), el("p", { class: "row" }, go)));
}

/** Shows the check of the curve of the address. */
export async function show(stage, address) {
  const [workspace, choices] = await Promise.all([get("/api/workspace"), offered()]);
  const { names } = workspace.has_library ? await get("/api/specifications") : { names: [] };
  const choose = curveField("Curve", choices, address.query.get("curve"), "choose a curve");
  let measured = null;
  let end = () => {};
  const result = el("div", { class: "stacked" });
  const load = async () => {
    measured = choose.input.value ? await curve(choose.input.value) : null;
    how.suggest(measured?.microphone?.rated_impedance_ohm);
  };
  const how = limits(address, names, null);
  const go = el("button", { type: "submit", class: "main" }, "Check it");
  const work = async () => {
    const ref = readField(choose, (value) => {
      if (!value) throw new Error("No curve is chosen; choose one.");
      return value;
    });
    const { body, noted } = how.asked();
    address.replace({ curve: ref, ...noted });
    if (measured?.ref !== ref) await load();
    end();
    end = () => {};
    fill(result);
    let told;
    try {
      told = await post("/api/check", { curve: ref, ...body });
    } catch (error) {
      if (how.blamed(error)) return;
      throw error;
    }
    end = verdictOf(result, told, measured);
    result.append(el("p", { class: "row" }, el("a", { class: "button", href: "/report" + query({ curve: ref, specification: body.specification }) }, "Report with this check")),
      body.yaml ? keepForm(body.yaml, workspace) : "");
  };
  choose.input.addEventListener("change", () => busy(choose.input, load));
  stage.append(el("h1", {}, "Check against limits"), el("form", { class: "sheet stacked", novalidate: true, onsubmit: (event) => {
    event.preventDefault();
    busy(go, work);
  } }, choose.node, how.node, el("p", { class: "row" }, go)), result);
  if (choose.input.value) await load();
  if (choose.input.value && (address.query.has("spec") || address.query.has("ohm"))) await busy(go, work);
  return () => end();
}
