// Naming curves: what REF stands for, where it leads, and a field that offers the curves there are.
import { at, get, query } from "./api.js";
import { field } from "./fields.js";
import { dateTime } from "./format.js";

const MOST_OFFERED = 200;

/** Where a curve is shown: the bench of its session, or its entry of the library. */
export function hrefOf(ref) {
  const [, where, name] = /^(session|library):(.+)$/.exec(ref) ?? [];
  if (!where) return "/";
  return `/${where}/${encodeURIComponent(name)}`;
}

/** A curve as the server tells it. */
export const curve = (ref, options) => get(at("curves", ref), options);

/** The curves that the page can offer: `[[ref, words], …]`, sessions first. */
export async function offered() {
  const workspace = await get("/api/workspace");
  const sessions = workspace.sessions.filter((s) => s.has_curve)
    .map((s) => [`session:${s.name}`, `${s.label} (session ${s.name})`]);
  if (!workspace.has_library) return sessions;
  const kept = await get("/api/library" + query({ limit: MOST_OFFERED, superseded: true }));
  const named = (e) => [e.label, [e.maker, e.model].filter(Boolean).join(" ")].filter(Boolean).join(", ");
  return [...sessions, ...kept.entries.map((e) => [`library:${e.id}`, `${named(e)} (library, ${dateTime(e.measured_at)})`])];
}

/**
 * A field to choose one curve. `choices` is what `offered()` gave; `empty` are the words for none. A curve that is named in
 * the address but not among those offered is offered too, by its name.
 */
export function curveField(label, choices, value, empty, more = {}) {
  const all = [["", empty], ...choices];
  if (value && !choices.some(([ref]) => ref === value)) all.push([value, value.replace(":", " ")]);
  return field({ label, choices: all, value: value ?? "", ...more });
}
