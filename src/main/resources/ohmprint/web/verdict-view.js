// How the program's judgements look on the page: verdicts as words with a mark, findings, cautions.
import { get } from "./api.js";
import { el, fill } from "./dom.js";
import { transducer, withMinus } from "./format.js";

/** Tone and mark of each verdict; the mark says the same as the colour. */
const VERDICTS = {
  usable: ["good", "✓"], doubtful: ["warn", "?"], unusable: ["bad", "✕"],
  within: ["good", "✓"], outside: ["bad", "✕"], undecided: ["warn", "?"],
};

/** A verdict: `verdict("doubtful")`; null gives "not measured". */
export function verdict(word) {
  const [tone, mark] = VERDICTS[word] ?? ["plain", null];
  return el("span", { class: `word ${tone}` }, mark ? el("span", { "aria-hidden": "true" }, `${mark} `) : null, word ?? "not measured");
}

/** What was noticed about takes and curve, or a sentence that nothing was. */
export function findings(list, none = "Nothing was noticed about the takes.") {
  if (!list?.length) return el("p", { class: "quiet-words" }, none);
  return el("ul", { class: "plain-list" }, list.map((f) =>
    el("li", { class: "finding" }, el("strong", {}, f.code), f.take ? ` (${f.take})` : "", ": ", withMinus(f.message))));
}

/** How well the takes of a curve agree, with a heading; nothing where that is not known. */
export function consistency(curve) {
  if (!curve.consistency?.length) return null;
  return [el("h3", {}, "Consistency"), el("ul", {}, curve.consistency.map((c) => el("li", {}, withMinus(c))))];
}

/** Name and value pairs; pairs without a value are left out. */
export function facts(pairs) {
  return el("dl", { class: "facts" }, pairs.filter(([, v]) => v !== null && v !== undefined && v !== "").map(([name, value]) =>
    el("div", {}, el("dt", {}, name), el("dd", {}, value))));
}

/** Maker, model and serial number on one line, or null. */
export const kind = (m) => [m.maker, m.model, m.serial ? `serial ${m.serial}` : null].filter(Boolean).join(", ") || null;

/** The same with the transducer, as far as either is known. */
export const whatItIs = (m) => [kind(m), transducer(m.transducer)].filter(Boolean).join(", ") || "not stated";

let known = null;

/** The cautions of the trade as the command line prints them, folded unless `open`. */
export function cautions(open = false) {
  const place = el("ul");
  known ??= get("/api/cautions");
  known.then((told) => fill(place, told.cautions.map((c) => el("li", {}, c))), (error) => {
    known = null;
    fill(place, el("li", {}, error.message));
  });
  return el("details", { class: "cautions", open }, el("summary", {}, "Before you connect or play anything"), place);
}
