// Bringing recordings in: files or a folder, chosen or dropped, become a session.
import { at, get, post, upload } from "./api.js";
import { announce, busy, el, fill } from "./dom.js";
import { field } from "./fields.js";
import { FOLDER, RECORDINGS, chooser, isSound, sessionFiles, takesDrops } from "./files.js";
import { count } from "./format.js";

const MANIFEST = "session.yaml";

/** The folder that a file came from, by whichever way it was chosen, or null. */
const folderOf = (file) => file?.folder ?? (file?.webkitRelativePath?.split("/")[0] || null);

const size = (bytes) => (bytes < 1e5 ? `${(bytes / 1e3).toFixed(1)} kB` : `${(bytes / 1e6).toFixed(1)} MB`);

/** A name for a folder that no session has yet. */
async function free(wanted) {
  const taken = new Set((await get("/api/workspace")).sessions.map((s) => s.name));
  let name = wanted;
  for (let i = 2; taken.has(name); i++) name = `${wanted}-${i}`;
  return name;
}

/** The section; `open(name)` is called with the session once everything has arrived. */
export function bringIn(open) {
  let files = [];
  // What a broken attempt has already brought, so that the next one goes on instead of beginning anew.
  let session = null;
  const there = new Set();
  const label = field({ label: "What the bench calls the microphone", name: "label" });
  const list = el("div", { "aria-live": "polite" });
  const bar = el("progress", { max: 1, value: 0, "aria-label": "Copied so far", hidden: true });
  const go = el("button", { type: "button", class: "main" }, "Make a session of them");
  const described = () => files.some((file) => file.name === MANIFEST);

  const choose = (all) => {
    files = sessionFiles(all);
    session = null;
    there.clear();
    const sound = files.some(isSound);
    const left = all.length - files.length;
    go.parentElement.hidden = !sound;
    label.node.hidden = described() || !sound;
    if (!label.input.value) label.input.value = folderOf(files[0]) ?? "";
    fill(list,
      files.length ? el("ul", { class: "files" }, files.map((file) => el("li", {}, el("code", {}, file.name), ` ${size(file.size)}`))) : null,
      all.length && !sound ? el("p", { class: "error" }, "No recording is among them; recordings are WAV, AIFF or FLAC files.") : null,
      sound ? el("p", {}, described() ? `${MANIFEST} is among them: it says what the takes are.` : "You will say on the bench which load each of them is.") : null,
      left ? el("p", { class: "quiet-words" }, `${count(left, "other file")} stay${left === 1 ? "s" : ""} where ${left === 1 ? "it is" : "they are"}.`) : null);
  };

  const bring = async () => {
    const name = label.input.value.trim();
    label.error(described() || name ? null : "The microphone has no name yet; give one.");
    if (!described() && !name) return void label.input.focus();
    session ??= (await post("/api/sessions", described() ? { name: await free(folderOf(files[0]) ?? "session") }
      : { microphone: { label: name }, input: { resistance_ohm: "unknown" }, loads: null })).name;
    const all = files.reduce((sum, file) => sum + file.size, 0);
    bar.hidden = false;
    let sent = 0;
    try {
      // The manifest comes first: each take that it names then finds its place.
      for (const file of files) {
        if (!there.has(file)) await upload(at("sessions", session, "files", file.name), file, (share) => { bar.value = (sent + share * file.size) / all; });
        there.add(file);
        sent += file.size;
        announce(`${file.name} copied`);
      }
    } finally {
      bar.hidden = true;
    }
    await open(session);
  };
  go.addEventListener("click", () => busy(go, bring));

  const zone = el("div", { class: "drop", role: "group", "aria-label": "Bring files" },
    el("p", {}, "Drop the folder of a session, or recordings of one microphone, here, or"),
    el("p", { class: "row" }, chooser("Choose recordings", RECORDINGS, choose),
      chooser("Choose a folder", FOLDER, choose)));
  takesDrops(zone, choose);
  const section = el("section", { class: "sheet", "aria-labelledby": "bring-title" }, el("h2", { id: "bring-title" }, "Bring recordings in"),
    el("div", { class: "stacked" }, zone, list, label.node, bar, el("p", { class: "row" }, go)));
  choose([]);
  return section;
}
