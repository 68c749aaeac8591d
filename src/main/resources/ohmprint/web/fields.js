// Fields with label, unit, hint and an error beside them, and what people write into them.
import { el, fill } from "./dom.js";

let made = 0;

/**
 * A field: `field({label: "Load", unit: "Ω", value: "330", hint: "…", type: "text", choices: [["v", "words"], …]})`. Returns
 * `{node, input, error(words|null)}`; `input` is the control itself, and an error goes when something else is entered. With `choices` it is a select.
 */
export function field({ label, unit = null, value = "", hint = null, choices = null, ...properties }) {
  const id = `field-${++made}`;
  const described = [hint ? `${id}-hint` : null, `${id}-error`].filter(Boolean).join(" ");
  const input = choices
    ? el("select", { id, "aria-describedby": described, ...properties },
      choices.map(([v, words]) => el("option", { value: v, selected: v === value }, words)))
    : el("input", { id, type: "text", autocomplete: "off", value, "aria-describedby": described, ...properties });
  const problem = el("span", { id: `${id}-error`, class: "error", "aria-live": "polite" });
  const node = el("div", { class: "field" }, el("label", { for: id }, label),
    el("span", { class: "with-unit" }, input, unit ? el("span", { class: "unit" }, unit) : null),
    hint ? el("span", { id: `${id}-hint`, class: "hint" }, hint) : null, problem);
  const error = (words) => {
    fill(problem, words ?? "");
    if (words) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
  };
  input.addEventListener("input", () => error(null));
  return { node, input, error };
}

/** A checkbox with its words. */
export function tick(words, checked = false, properties = {}) {
  const input = el("input", { type: "checkbox", ...properties });
  input.checked = checked;
  return { node: el("label", { class: "tick" }, input, " ", el("span", {}, words)), input };
}

const PREFIX = { "": 1, k: 1e3, K: 1e3, M: 1e6 };
const MANTISSA = /^([0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)\s*([kKM]?)\s*(?:Ω|ohm|ohms|R)?$/;
const BETWEEN = /^([0-9]+)([kKM])([0-9]+)$/;

/**
 * Ohms as people write them: 330, 4.7k, 4k7, 0,68 kΩ. The word `open` (or "none") is no resistor, `unknown` stays a word
 * when `words` allows it. Throws an Error that says what is wrong.
 */
export function readOhms(text, words = []) {
  const given = text.trim();
  const word = given.toLowerCase() === "none" || given.toLowerCase() === "no resistor" ? "open" : given.toLowerCase();
  if (words.includes(word)) return word;
  const split = BETWEEN.exec(given);
  const plain = MANTISSA.exec(given);
  const value = split ? Number(`${split[1]}.${split[3]}`) * PREFIX[split[2]]
    : plain ? Number(plain[1].replace(",", ".")) * PREFIX[plain[2]] : NaN;
  if (!(value > 0)) {
    throw new Error(`“${given}” is no resistance; write ohms such as 330, 4.7k${words.length ? " or " + words.join(", ") : ""}.`);
  }
  return Number(value.toPrecision(12));
}

/** A number with its unit named in the complaint; `empty` is what an empty field means. */
export function readNumber(text, name, unit, { empty, min = -Infinity, max = Infinity } = {}) {
  const given = text.trim().replace(",", ".");
  if (given === "" && empty !== undefined) return empty;
  const value = given === "" ? NaN : Number(given);
  if (!(value >= min && value <= max)) {
    const range = Number.isFinite(min) && Number.isFinite(max) ? ` from ${min} to ${max}`
      : Number.isFinite(min) ? ` of ${min} or more` : "";
    throw new Error(`${name}: “${text.trim()}” is no number of ${unit}${range}.`);
  }
  return value;
}

/**
 * What `reader` makes of what stands in a field. A refusal is written beside the field, which gets the focus, and thrown on as
 * one that has been told.
 */
export function readField(one, reader) {
  one.error(null);
  try {
    return reader(one.input.value);
  } catch (error) {
    one.error(error.message);
    one.input.focus();
    throw Object.assign(error, { name: "AbortError" });
  }
}
