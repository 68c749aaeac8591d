// Bringing recordings in: files or a folder, chosen or dropped, become a session.
import { at, get, post, upload } from "./api.js";
import { announce, busy, el, fill } from "./dom.js";
import { field } from "./fields.js";
import { percent } from "./words.js";

const SOUND = /\.(wav|wave|rf64|aif|aiff|aifc|flac)$/i;
const MANIFEST = "session.yaml";
/** What a session may need besides its takes: its manifest, and an input as a curve. */
const WANTED = (file) => SOUND.test(file.name) || file.name === MANIFEST || /\.csv$/i.test(file.name);

/** All files of what was dropped, folders opened: `[{file, folder}]`. The entries have to be taken before the first wait. */
async function dropped(transfer) {
  const entries = [...transfer.items].map((item) => item.webkitGetAsEntry?.()).filter(Boolean);
  if (!entries.length) return [...transfer.files].map((file) => ({ file, folder: null }));
  const out = [];
  for (const entry of entries) out.push(...await within(entry, null));
  return out;
}

async function within(entry, folder) {
  if (entry.isFile) return [{ file: await new Promise((yes, no) => entry.file(yes, no)), folder }];
  // Only the first level counts: a session is a flat folder, and its result is computed anew.
  if (folder !== null) return [];
  const reader = entry.createReader();
  const out = [];
  for (;;) {
    const some = await new Promise((yes, no) => reader.readEntries(yes, no));
    if (!some.length) return out;
    for (const one of some) out.push(...await within(one, entry.name));
  }
}

/** Files of a folder that was chosen; those of folders below it do not count. */
const chosenFolder = (input) => [...input.files].map((file) => ({ file, path: file.webkitRelativePath.split("/") }))
  .filter(({ path }) => path.length <= 2).map(({ file, path }) => ({ file, folder: path[0] }));

/** The section; `open(name)` is called with the session once everything has arrived. */
export function bringIn(open) {
  let files = [];
  // What a broken attempt has already brought, so that the next one goes on instead of beginning anew.
  let session = null;
  const there = new Set();
  const label = field({ label: "What the bench calls the microphone", name: "label" });
  const list = el("div", { "aria-live": "polite" });
  const bar = el("progress", { max: 1, value: 0, "aria-label": "Copied so far", hidden: true });
  const take = el("button", { type: "button", class: "main", disabled: true }, "Make a session of them");
  const manifest = () => files.find(({ file }) => file.name === MANIFEST);

  const choose = (all) => {
    const wanted = all.filter(({ file }) => WANTED(file));
    const left = all.length - wanted.length;
    files = wanted;
    session = null;
    there.clear();
    take.disabled = !files.some(({ file }) => SOUND.test(file.name));
    label.node.hidden = Boolean(manifest()) || !files.length;
    if (!label.input.value && files[0]?.folder) label.input.value = files[0].folder;
    fill(list, files.length ? el("ul", { class: "files" }, files.map(({ file }) => el("li", {}, el("code", {}, file.name), ` ${(file.size / 1e6).toFixed(1)} MB`))) : null,
      take.disabled && all.length ? el("p", { class: "error" }, "No recording is among them; recordings are WAV, AIFF or FLAC files.") : null,
      manifest() ? el("p", {}, `${MANIFEST} is among them: it says what the takes are.`) : files.length
        ? el("p", {}, "You will say on the bench which load each of them is.") : null,
      left ? el("p", { class: "quiet-words" }, `${left} other ${left === 1 ? "file is" : "files are"} left where they are.`) : null);
    if (files.length) announce(`${files.length} files chosen`);
  };

  const picker = (words, more, read) => {
    const input = el("input", { type: "file", class: "unseen", ...more });
    input.addEventListener("change", () => input.files.length && choose(read(input)));
    const node = el("label", { class: "button picker" }, input, words);
    return node;
  };

  const bring = async () => {
    label.error(null);
    const name = label.input.value.trim();
    if (!manifest() && !name) {
      label.error("The microphone has no name yet; give one.");
      label.input.focus();
      return;
    }
    const folder = files[0].folder;
    const begun = manifest() ? { name: await free(folder ?? "session"), empty: true }
      : { microphone: { label: name }, input: { resistance_ohm: "unknown" }, loads: null };
    session ??= (await post("/api/sessions", begun)).name;
    const size = files.reduce((sum, { file }) => sum + file.size, 0);
    bar.hidden = false;
    let sent = 0;
    try {
      // The manifest first: each take that it names then finds its place.
      for (const { file } of [...files].sort((a, b) => (b.file.name === MANIFEST) - (a.file.name === MANIFEST))) {
        if (!there.has(file)) {
          await upload(at("sessions", session, "files", file.name), file, (share) => { bar.value = (sent + share * file.size) / size; });
          there.add(file);
        }
        sent += file.size;
        announce(`${percent(100 * sent / size)} copied`);
      }
    } finally {
      bar.hidden = true;
    }
    await open(session);
  };
  take.addEventListener("click", () => busy(take, bring));

  const zone = el("div", { class: "drop" }, el("p", {}, "Drop the folder of a session, or recordings of one microphone, here."),
    el("p", { class: "row" }, picker("Choose recordings", { multiple: true, accept: ".wav,.aif,.aiff,.flac,.yaml,.csv" }, (input) => [...input.files].map((file) => ({ file, folder: null }))),
      picker("Choose a folder", { webkitdirectory: true }, chosenFolder)));
  zone.addEventListener("dragover", (event) => {
    event.preventDefault();
    zone.classList.add("over");
  });
  zone.addEventListener("dragleave", () => zone.classList.remove("over"));
  zone.addEventListener("drop", async (event) => {
    event.preventDefault();
    zone.classList.remove("over");
    choose(await dropped(event.dataTransfer));
  });
  choose([]);
  return el("section", { class: "sheet", "aria-labelledby": "bring-title" }, el("h2", { id: "bring-title" }, "Bring recordings in"),
    zone, list, label.node, bar, el("p", { class: "row" }, take));
}

/** A name for a folder that no session has yet. */
async function free(wanted) {
  const taken = new Set((await get("/api/workspace")).sessions.map((s) => s.name));
  let name = wanted;
  for (let i = 2; taken.has(name); i++) name = `${wanted}-${i}`;
  return name;
}
