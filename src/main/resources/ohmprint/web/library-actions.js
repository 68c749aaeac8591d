// What changes a library as a whole: keeping a session's result, taking a bundle in, looking for damage.
import { at, get, post, upload } from "./api.js";
import { busy, button, el, fill, notice } from "./dom.js";
import { chooser } from "./files.js";
import { field, tick } from "./fields.js";
import { count } from "./format.js";

/** Adding the result of a session. `after()` runs when the library holds more. */
function addForm(workspace, address, after) {
  const sessions = workspace.sessions.filter((s) => s.has_curve);
  if (!sessions.length) return el("p", {}, "No session of this folder has a result yet; a result is what is kept.");
  const session = field({ label: "Result of the session", choices: sessions.map((s) => [`session:${s.name}`, `${s.label} (${s.name})`]),
    value: address.query.get("add") ?? `session:${sessions[0].name}` });
  const operator = field({ label: "Measured by", value: workspace.operator ?? "" });
  const notes = field({ label: "Note", hint: "such as “before the repair”" });
  const again = tick("Keep it even if it was removed once");
  const told = el("p", { role: "status" });
  const add = el("button", { type: "submit", class: "main" }, "Keep it");
  return el("form", { class: "stacked", novalidate: true, onsubmit: (event) => {
    event.preventDefault();
    operator.error(operator.input.value.trim() ? null : "Say who measured it; the library keeps the name with the curve.");
    if (!operator.input.value.trim()) return void operator.input.focus();
    busy(add, async () => {
      const kept = await post("/api/library", { curve: session.input.value, operator: operator.input.value.trim(), notes: notes.input.value.trim() || null,
        again: again.input.checked });
      fill(told, kept.new ? "Kept as " : "The library held it already, as ", el("a", { href: `/library/${kept.id}` }, kept.id), ".",
        kept.notes.map((n) => el("span", { class: "finding" }, `${n[0].toUpperCase()}${n.slice(1)}.`)));
      await after();
    });
  } }, el("div", { class: "columns" }, session.node, operator.node, notes.node), el("p", {}, again.node), el("p", { class: "row" }, add, told));
}

/** Taking in what another workshop exported. */
function importForm(after) {
  const told = el("div", { role: "status" });
  const node = chooser("Take in a bundle", { accept: ".zip,application/zip" }, ([file]) => busy(node, async () => {
    fill(told, `Reading ${file.name} …`);
    try {
      const came = await upload(at("library", "bundle"), file);
      fill(told, el("p", {}, `${count(came.added.length, "measurement")} added, ${came.known} known already.`),
        came.conflicts.length ? [el("p", {}, "Not taken in:"), el("ul", {}, came.conflicts.map((c) => el("li", { class: "finding" }, c)))] : null);
      await after();
    } catch (error) {
      fill(told);
      throw error;
    }
  }));
  return el("div", {}, el("p", { class: "row" }, node), told);
}

function health() {
  const told = el("div", { role: "status" });
  return el("div", {}, el("p", { class: "row" }, button("Look for damage", async () => {
    fill(told, "Reading everything …");
    try {
      const found = await get("/api/library/health");
      fill(told, found.problems.length ? el("ul", {}, found.problems.map((p) => el("li", { class: "finding bad" }, p)))
        : el("p", {}, `${count(found.measurements, "measurement")} read, no damage found.`));
    } catch (error) {
      fill(told);
      throw error;
    }
  })), told);
}

/** The section for those who keep the library. */
export async function keeping(workspace, address, after) {
  const wanted = address.query.has("add");
  const section = el("section", { class: "sheet", "aria-labelledby": "keep-title" }, el("h2", { id: "keep-title" }, "Keep and exchange"),
    el("div", { class: "stacked" },
      el("div", {}, el("h3", {}, "Keep the result of a session"), addForm(workspace, address, after)),
      el("div", {}, el("h3", {}, "From another workshop"), importForm(after)),
      workspace.has_library ? el("div", {}, el("h3", {}, "Health"), health()) : null));
  if (wanted && !workspace.sessions.some((s) => `session:${s.name}` === address.query.get("add") && s.has_curve)) {
    notice(`${address.query.get("add")} has no result that could be kept; measure it first.`, "bad");
  }
  return section;
}
