// The workspace: the sessions of the folder, and every way to a new one.
import { at, get, post } from "./api.js";
import { busy, button, el, fill, notice } from "./dom.js";
import { tick } from "./fields.js";
import { beginForm } from "./new-session.js";
import { bringIn } from "./import-recordings.js";
import { cautions, verdict } from "./verdict-view.js";
import { count, dateTime, seconds } from "./format.js";

const SHOWN = 20;

function session(s) {
  const ref = encodeURIComponent(`session:${s.name}`);
  return el("li", { class: "session" },
    el("div", { class: "row ends" }, el("h3", {}, el("a", { href: `/session/${encodeURIComponent(s.name)}` }, s.label ?? s.name)),
      s.has_curve ? verdict(s.verdict) : verdict(null)),
    el("p", {}, s.takes ? `${count(s.takes, "take")}: ${s.loads.join(", ")}` : "no takes yet"),
    s.problem ? el("p", { class: "finding" }, s.problem) : null,
    el("p", { class: "quiet-words" }, `folder ${s.name}`, s.changed_at ? [", changed ", el("span", { class: "whole" }, dateTime(s.changed_at))] : ""),
    s.has_curve ? el("p", { class: "row" }, el("a", { href: `/check?curve=${ref}` }, "Check"), el("a", { href: `/report?curve=${ref}` }, "Report"),
      el("a", { href: `/compare?curves=${ref}` }, "Compare"), el("a", { href: `/library?add=${ref}` }, "Keep")) : null);
}

function sessions(list) {
  if (!list.length) {
    return el("p", {}, "There is no session in this folder yet. Begin one, bring recordings in, or look at the demo.");
  }
  const newest = [...list].sort((a, b) => String(b.changed_at ?? "").localeCompare(String(a.changed_at ?? "")));
  const node = el("ul", { class: "sessions" }, newest.slice(0, SHOWN).map(session));
  const rest = newest.length > SHOWN ? el("p", { class: "row" }, button(`Show all ${newest.length}`, async () => {
    node.append(...newest.slice(SHOWN).map(session));
    node.children[SHOWN].querySelector("a").focus();
    rest.remove();
  })) : null;
  return [node, rest];
}

/** Recordings that lie in the folder itself and belong to no session. */
function loose(files, go) {
  if (!files.length) return null;
  const ticks = files.map((f) => tick(`${f.file} (${seconds(f.seconds)}, ${f.sample_rate} Hz, ${count(f.channels, "channel")})`));
  const name = el("input", { type: "text", autocomplete: "off", id: "loose-label" });
  const problem = el("span", { class: "error", "aria-live": "polite", id: "loose-error" });
  return el("section", { class: "sheet", "aria-labelledby": "loose-title" },
    el("h2", { id: "loose-title" }, "Recordings beside the sessions"),
    el("p", {}, "These belong to no session. Choose those of one microphone; they are copied into a new session, where you say which load each is."),
    el("ul", { class: "plain-list" }, ticks.map((t) => el("li", {}, t.node))),
    el("div", { class: "stacked" }, el("div", { class: "field short" }, el("label", { for: "loose-label" }, "What the bench calls the microphone"), name),
    el("p", { class: "row" }, button("Begin a session with these", async () => {
      const chosen = files.filter((_, i) => ticks[i].input.checked).map((f) => f.file);
      const label = name.value.trim();
      fill(problem, chosen.length ? (label ? "" : "The microphone has no name yet; give one.") : "No recording is chosen; choose two or more.");
      if (!chosen.length || !label) return void (chosen.length ? name : ticks[0].input).focus();
      const made = await post("/api/sessions", { microphone: { label }, input: { resistance_ohm: "unknown" }, loads: null });
      await post(at("sessions", made.name, "adopt"), { files: chosen });
      await go(`/session/${encodeURIComponent(made.name)}`);
    }), problem)));
}

/** Shows the workspace. */
export async function show(stage, address) {
  const workspace = await get("/api/workspace");
  const open = (name) => address.go(`/session/${encodeURIComponent(name)}`);
  const list = el("section", { class: "sheet", "aria-labelledby": "sessions-title" });
  const draw = (w) => fill(list, el("h2", { id: "sessions-title" }, "Sessions"), sessions(w.sessions));
  draw(workspace);
  const demo = button("Look at the demo", async () => open((await post("/api/demo", {})).name));
  const again = el("button", { type: "button" }, "Look again");
  again.addEventListener("click", () => busy(again, async () => {
    draw(await get("/api/workspace"));
    notice("The list is up to date.", "good");
  }));
  stage.append(
    el("header", { class: "row ends" }, el("div", {}, el("h1", {}, "Workspace"), el("p", { class: "quiet-words" }, el("code", {}, workspace.workspace))),
      el("p", { class: "row" }, el("a", { class: "button main", href: "#begin-title" }, "Begin a session"), demo, again)),
    el("div", { class: "halves" }, el("div", { class: "stacked" }, list, loose(workspace.loose, address.go)),
      el("div", { class: "stacked" }, beginForm(open), bringIn(open))),
    cautions());
}
