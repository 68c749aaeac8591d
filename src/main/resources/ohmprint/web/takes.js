// The takes as they come: what each was, what was found in it, and the files that still want a load.
import { pendingCard, takeCard, unlistedCard } from "./take-card.js";
import { dropPlace } from "./files.js";
import { announce, el, fill } from "./dom.js";
import { count, ohms } from "./format.js";

/** The list, which keeps each card as long as its take stays, so that the focus stays too. */
export function takes(bench) {
  const list = el("ol", { class: "take-list", "aria-label": "Takes" });
  const waiting = el("div", { "aria-live": "off" });
  const loose = el("div", { class: "loose" });
  const asideWords = el("summary", {});
  const asideList = el("div", { class: "loose" });
  const aside = el("details", { class: "aside" }, asideWords, asideList);
  const empty = el("p", { class: "quiet-words" },
    "No take yet. Record them with this computer, or bring files that were recorded elsewhere, one for each load.");
  const cards = new Map();
  let known = null;

  bench.watch((state) => {
    const wanted = new Map();
    const judged = new Map();
    if (state.recorder?.step === "judge" && state.recorder.take) {
      const take = state.recorder.take;
      judged.set(`judge ${take.file} ${take.load_ohm} ${take.peak_dbfs}`, () => pendingCard(bench, take));
    }
    [...state.takes].reverse().forEach((t) => wanted.set(`take ${t.file}`, () => takeCard(bench, t)));
    // What is being recorded or judged lies in the folder too, but is no file that asks for anything.
    const busy = ["sounding", "judge"].includes(state.recorder?.step);
    const lying = (state.unlisted ?? []).filter((f) => !(busy && /\.unfinished\.wav$/.test(f.file)));
    const card = (f) => [`file ${f.file}`, () => unlistedCard(bench, f)];
    const files = new Map(lying.filter((f) => !f.unfinished && !f.rejected).map(card));
    const put = new Map(lying.filter((f) => f.unfinished || f.rejected).map(card));
    keep(cards, new Map([...judged, ...wanted, ...files, ...put]), bench);
    place(waiting, [...judged.keys()].map((k) => cards.get(k).node));
    place(list, [...wanted.keys()].map((k) => cards.get(k).node));
    place(loose, [...files.keys()].map((k) => cards.get(k).node));
    place(asideList, [...put.keys()].map((k) => cards.get(k).node));
    fill(asideWords, `Rejected or incomplete: ${count(put.size, "file")}`);
    aside.hidden = put.size === 0;
    loose.hidden = files.size === 0;
    empty.hidden = judged.size + wanted.size + files.size > 0;
    const now = state.takes.map((t) => t.file);
    const fresh = known === null ? [] : state.takes.filter((t) => !known.includes(t.file));
    fresh.forEach((t) => announce(`${t.file} with ${ohms(t.load_ohm)} is in the session, which has ${count(now.length, "take")} now.`));
    known = now;
  });

  return el("section", { class: "sheet", "aria-labelledby": "takes-title" },
    el("h2", { id: "takes-title" }, "Takes"), waiting, loose, list, empty, aside, dropPlace(bench));
}

/** Makes the cards that are new, shows the others what has changed, forgets those whose take is gone. */
function keep(cards, wanted, bench) {
  for (const key of [...cards.keys()]) if (!wanted.has(key)) cards.delete(key);
  for (const [key, make] of wanted) {
    if (!cards.has(key)) cards.set(key, make());
    cards.get(key).show?.(bench.state);
  }
}

/** Puts nodes into a place in order without moving those that are right already: a moved node loses the focus. */
function place(where, nodes) {
  [...where.children].filter((n) => !nodes.includes(n)).forEach((n) => n.remove());
  nodes.forEach((n, i) => where.children[i] !== n && where.insertBefore(n, where.children[i] ?? null));
}
