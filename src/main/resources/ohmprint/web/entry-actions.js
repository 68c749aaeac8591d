// What a keeper does with one measurement: say what takes its place, what came after a repair, or remove it.
import { at, get, post, query } from "./api.js";
import { ask, busy, el, notice } from "./dom.js";
import { field } from "./fields.js";
import { dateTime } from "./format.js";

const MOST_OFFERED = 200;

/** A small form: fields that all have to be filled unless `optional`, and a button that works. */
function form(title, words, fields, action, work) {
  const go = el("button", { type: "submit", class: action.danger ? "danger" : null }, action.words);
  return el("details", {}, el("summary", {}, title), el("p", { class: "quiet-words" }, words),
    el("form", { class: "stacked", novalidate: true, onsubmit: (event) => {
      event.preventDefault();
      let first = null;
      for (const one of fields) {
        const missing = !one.optional && !one.input.value.trim();
        one.error(missing ? one.missing : null);
        first ??= missing ? one : null;
      }
      if (first) return void first.input.focus();
      busy(go, () => work(...fields.map((one) => one.input.value.trim())));
    } }, el("div", { class: "columns" }, fields.map((one) => one.node)), el("p", { class: "row" }, go)));
}

const named = (missing, properties) => ({ ...field(properties), missing });

/** The section of an entry that changes the library. */
export async function caring(entry, address) {
  const [workspace, all] = await Promise.all([get("/api/workspace"), get("/api/library" + query({ limit: MOST_OFFERED }))]);
  const others = all.entries.filter((e) => e.id !== entry.id)
    .map((e) => [e.id, `${e.label}, ${dateTime(e.measured_at)} (${e.id})`]);
  const operator = () => named("Say who does it; the library keeps the name.", { label: "Done by", value: workspace.operator ?? "" });
  const other = (label) => named("Choose the other measurement.", { label, choices: [["", "choose"], ...others] });
  const path = (what) => at("library", entry.id, what);
  const here = `/library/${encodeURIComponent(entry.id)}`;

  const supersede = form("A newer one takes its place", "This one then no longer counts in lists and spreads; it stays and can be shown.",
    [other("The newer measurement"), named("Give the reason.", { label: "Reason" }), operator()], { words: "It takes its place" },
    async (by, reason, who) => {
      await post(path("supersede"), { by_id: by, reason, operator: who });
      notice(`${entry.id} is superseded by ${by}.`, "good");
      await address.go(here);
    });
  const repaired = form("The microphone was repaired after it", "Links this measurement, before, with one after the repair.",
    [other("The measurement after"), { ...named("", { label: "Note", hint: "such as “transformer changed”" }), optional: true }, operator()],
    { words: "Link the two" }, async (after, note, who) => {
      const { warning } = await post(path("repaired"), { after_id: after, note, operator: who });
      if (warning) notice(warning);
      notice(`${entry.id} is linked with ${after}, measured after the repair.`, "good");
      await address.go(here);
    });
  const remove = form("Remove it", "A keeper's act: the curve is gone for good, and a record of who removed it and why stays. Superseding keeps it.",
    [named("Give the reason; it stays in the record.", { label: "Reason" }), operator()], { words: "Remove it …", danger: true },
    async (reason, who) => {
      if (!await ask(`Remove ${entry.label} (${entry.id})?`, `It cannot be brought back. The record will say: ${reason} (${who}).`, "Remove it for good")) return;
      await post(path("remove"), { reason, operator: who });
      notice(`${entry.label} (${entry.id}) was removed; the record with the reason stays.`, "good");
      await address.go("/library");
    });
  return el("section", { class: "sheet", "aria-labelledby": "care-title" }, el("h2", { id: "care-title" }, "For the keeper"), supersede, repaired, remove);
}
