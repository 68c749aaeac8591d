// The library: finding measurements by words and by what they are of, and choosing among them.
import { get, query } from "./api.js";
import { button, el, fill, notice } from "./dom.js";
import { field, tick } from "./fields.js";
import { download } from "./download.js";
import { keeping } from "./library-actions.js";
import { verdict, whatItIs } from "./verdict-view.js";
import { TRANSDUCERS, count, dateTime, ohms } from "./format.js";

const STEP = 50;
const MOST_COMPARED = 6;
const VERDICTS = [["", "any"], ["usable", "usable"], ["doubtful", "doubtful"], ["unusable", "unusable"]];
const KINDS = [["", "any"], ...TRANSDUCERS];
const ROUTES = [["", "any"], ["reference", "reference"], ["stimulus", "stimulus"], ["common", "common"], ["power", "power"]];

function filters(address) {
  const given = (name) => address.query.get(name) ?? "";
  const one = (label, name, more = {}) => field({ label, name, value: given(name), ...more });
  return {
    text: one("Find", "text", { type: "search", hint: "each word occurs in label, maker, model, serial number, notes, operator, route, verdict or findings" }),
    transducer: one("Transducer", "transducer", { choices: KINDS }),
    verdict: one("Verdict", "verdict", { choices: VERDICTS }),
    maker: one("Maker", "maker"),
    model: one("Model", "model"),
    serial: one("Serial number", "serial"),
    operator: one("Measured by", "operator"),
    route: one("Route", "route", { choices: ROUTES }),
    since: one("Measured since", "since", { type: "date" }),
    until: one("until", "until", { type: "date" }),
  };
}

function row(entry, chosen, changed) {
  const mark = tick("", chosen.has(entry.id), { "aria-label": `Choose ${entry.label}, ${entry.id}` });
  mark.input.addEventListener("change", () => {
    if (mark.input.checked) chosen.add(entry.id);
    else chosen.delete(entry.id);
    changed();
  });
  const cell = (head, content) => el("td", { data: { head } }, content);
  return el("tr", {}, el("td", {}, mark.node),
    el("th", { scope: "row" }, el("a", { href: `/library/${entry.id}` }, entry.label), el("br"), el("code", { class: "quiet-words" }, entry.id)),
    cell("Kind", whatItIs(entry)),
    cell("|Z| at 1 kHz", [ohms(entry.ohm_at_1khz, 4), entry.parallel_with_input ? " with its input" : ""]),
    cell("Verdict", [verdict(entry.verdict), entry.superseded_by ? " superseded" : ""]),
    cell("Measured", [dateTime(entry.measured_at), el("br"), el("span", { class: "quiet-words" }, entry.operator ? `by ${entry.operator}` : "")]));
}

/** Shows the library. */
export async function show(stage, address) {
  const f = filters(address);
  const superseded = tick("Superseded ones too", address.query.get("superseded") === "true");
  const chosen = new Set();
  const results = el("div", { class: "results" });
  const found = el("p", { role: "status" });
  const compare = button("Compare", async () => address.go("/compare" + query({ curves: [...chosen].map((id) => `library:${id}`).join(",") })));
  const bundle = button("Export as a bundle", async () => download("/api/library/bundle" + query({ ids: [...chosen].join(",") }), "curves.zip"));
  const choice = el("p", { class: "row chosen", role: "group", "aria-label": "With those chosen" });
  let limit = STEP;

  const asked = () => ({ ...Object.fromEntries(Object.entries(f).map(([name, one]) => [name, one.input.value.trim()])),
    superseded: superseded.input.checked ? "true" : "" });
  const changed = () => {
    compare.disabled = chosen.size < 2 || chosen.size > MOST_COMPARED;
    bundle.disabled = chosen.size === 0;
    fill(choice, el("span", {}, chosen.size ? `${count(chosen.size, "measurement")} chosen` : "Choose measurements to compare or export them"),
      compare, bundle, chosen.size > MOST_COMPARED ? el("span", { class: "error" }, `up to ${MOST_COMPARED} can be compared`) : null);
  };

  const draw = (told) => {
    fill(found, told.total ? `${told.entries.length} of ${count(told.total, "measurement")}, newest first` : "Nothing in the library fits.");
    const more = told.entries.length < told.total ? button("Show more", async () => {
      limit += 2 * STEP;
      await search();
    }) : null;
    fill(results, told.entries.length ? el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Table of measurements" },
      el("table", { class: "cards" }, el("caption", { class: "unseen" }, "Measurements of the library"),
        el("thead", {}, el("tr", {}, ["Choose", "Microphone", "Kind", "|Z| at 1 kHz", "Verdict", "Measured"].map((h) => el("th", { scope: "col" }, h)))),
        el("tbody", {}, told.entries.map((e) => row(e, chosen, changed))))) : null, more);
  };
  let turn = 0;
  // While someone types, answers may overtake each other; only the last question counts.
  const search = async () => {
    const mine = ++turn;
    const told = await get("/api/library" + query({ ...asked(), limit }));
    if (mine === turn) draw(told);
  };

  let last = query(asked());
  const changedFilter = async () => {
    // The list is made anew by an answer, and someone may already have gone on into it.
    if (query(asked()) === last) return;
    last = query(asked());
    address.replace(asked());
    limit = STEP;
    try {
      await search();
    } catch (error) {
      notice(error.message, "bad");
    }
  };
  let timer = 0;
  const soon = () => {
    clearTimeout(timer);
    timer = setTimeout(changedFilter, 250);
  };
  const form = el("form", { role: "search", class: "sheet stacked", onsubmit: (event) => {
    event.preventDefault();
    changedFilter();
  }, onchange: soon },
  f.text.node, el("details", { open: Object.entries(asked()).some(([name, v]) => v && name !== "text") }, el("summary", {}, "Narrow it down"),
    el("div", { class: "columns" }, [f.transducer, f.verdict, f.maker, f.model, f.serial, f.operator, f.route, f.since, f.until].map((one) => one.node)),
    el("p", {}, superseded.node)));
  f.text.input.addEventListener("input", soon);

  const workspace = await get("/api/workspace");
  const keep = await keeping(workspace, address, async () => {
    list.hidden = false;
    await search();
  });
  const list = el("section", { class: "sheet", "aria-labelledby": "found-title" }, el("h2", { id: "found-title" }, "Measurements"), found, choice, results);
  stage.append(el("header", {}, el("h1", {}, "Library"), el("p", { class: "quiet-words" }, el("code", {}, workspace.library))),
    el("p", { class: "row" }, el("a", { class: "button", href: "/spread" }, "Spread of a model"), el("a", { class: "button", href: "/like" }, "What might this be?"),
      el("a", { class: "button", href: "/check" }, "Check a curve")));
  changed();
  if (workspace.has_library) await search();
  else {
    list.hidden = true;
    stage.append(el("p", {}, "There is no library here yet; it is made when the first measurement is kept or a bundle is taken in."));
  }
  const parts = [...(workspace.has_library ? [form] : []), list];
  stage.append(...(address.query.has("add") ? [keep, ...parts] : [...parts, keep]));
  return () => clearTimeout(timer);
}
