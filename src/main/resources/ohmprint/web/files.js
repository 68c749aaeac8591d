// Bringing files: dropped or chosen, single or as the folder of a session.
import { upload } from "./api.js";
import { announce, el, fill } from "./dom.js";
import { count } from "./format.js";

const SOUND = /\.(wav|wave|rf64|aif|aiff|aifc|flac)$/i;
const WANTED = (name) => SOUND.test(name) || name === "session.yaml" || name === "recording.json";

/** Files of a drop, those in folders too (one level below, as a session is), which then have the name as `folder`. */
export async function droppedFiles(transfer) {
  const entries = [...transfer.items].map((item) => item.webkitGetAsEntry?.()).filter(Boolean);
  if (!entries.length) return [...transfer.files];
  const out = [];
  for (const entry of entries) {
    if (entry.isFile) out.push(await fileOf(entry));
    else for (const inner of await children(entry)) if (inner.isFile) out.push(Object.assign(await fileOf(inner), { folder: entry.name }));
  }
  return out;
}

const fileOf = (entry) => new Promise((resolve, reject) => entry.file(resolve, reject));

async function children(folder) {
  const reader = folder.createReader();
  const all = [];
  for (;;) {
    // A reader hands out at most a hundred at a time.
    const some = await new Promise((resolve, reject) => reader.readEntries(resolve, reject));
    if (!some.length) return all;
    all.push(...some);
  }
}

/** Whether a file holds sound, by its name. */
export const isSound = (file) => SOUND.test(file.name);

/** What of the files belongs into a session, the manifest first, because it says what the others are. */
export function sessionFiles(files) {
  const good = files.filter((f) => !f.name.startsWith(".") && WANTED(f.name)
    && !(f.webkitRelativePath ?? "").split("/").slice(1, -1).length);
  return good.sort((a, b) => (b.name === "session.yaml") - (a.name === "session.yaml") || a.name.localeCompare(b.name));
}

const holds = (e) => [...(e.dataTransfer?.types ?? [])].includes("Files");

/** Files that are let go beside a place for them would make a browser leave the page and open them; `tell` hears of it instead. */
export function guardsDrops(tell) {
  window.addEventListener("dragover", (e) => holds(e) && e.preventDefault());
  window.addEventListener("drop", (e) => {
    if (!holds(e) || e.defaultPrevented) return;
    e.preventDefault();
    tell("Files are taken where a dashed line is drawn around the place for them; let them go there.");
  });
}

/**
 * Makes an element take drops. `take(files)` gets all files; the element carries the class `over` while something hangs
 * above it. Returns a function that ends it.
 */
export function takesDrops(node, take) {
  let depth = 0;
  const mark = () => node.classList.toggle("over", depth > 0);
  const on = {
    dragenter: (e) => holds(e) && (e.preventDefault(), depth++, mark()),
    dragover: (e) => holds(e) && e.preventDefault(),
    dragleave: (e) => holds(e) && (depth = Math.max(0, depth - 1), mark()),
    drop: async (e) => {
      if (!holds(e)) return;
      e.preventDefault();
      depth = 0;
      mark();
      take(await droppedFiles(e.dataTransfer));
    },
  };
  Object.entries(on).forEach(([name, f]) => node.addEventListener(name, f));
  return () => Object.entries(on).forEach(([name, f]) => node.removeEventListener(name, f));
}

/** What a chooser of recordings, or of a folder, asks the browser for. */
export const RECORDINGS = { multiple: true, accept: ".wav,.wave,.rf64,.aif,.aiff,.flac,.yaml" };
export const FOLDER = { multiple: true, webkitdirectory: true };

/** A file input that looks like a button; `take(files)` gets what is chosen, also when it is the same file once more. */
export function chooser(words, properties, take) {
  const input = el("input", { type: "file", class: "unseen", ...properties, onchange: () => {
    const files = [...input.files];
    input.value = "";
    if (files.length) take(files);
  } });
  return el("label", { class: "button chooser" }, input, words);
}

/** The place under the takes where files come in. */
export function dropPlace(bench) {
  const progress = el("ul", { class: "sending", "aria-live": "polite" });
  const send = async (files) => {
    const good = sessionFiles(files);
    fill(progress, good.length < files.length
      ? el("li", { class: "quiet-words" }, `${count(files.length - good.length, "file")} left out: neither sound (WAV, AIFF, FLAC) nor session.yaml.`) : null);
    for (const file of good) {
      const bar = el("progress", { max: 1, value: 0, "aria-label": `Sending ${file.name}` });
      const line = el("li", {}, el("code", {}, file.name), " ", bar);
      progress.append(line);
      try {
        bench.take(await upload(bench.path("files", file.name), file, (share) => { bar.value = share; }));
        line.remove();
      } catch (error) {
        fill(line, el("span", { class: "error" }, error.message));
      }
    }
    if (good.length) announce(`${count(good.length, "file")} sent.`);
  };
  const node = el("div", { class: "drop", role: "group", "aria-label": "Bring files" },
    el("p", {}, "Drop sound files or the folder of a session here, or"),
    el("p", { class: "row" }, chooser("Choose files", RECORDINGS, send), chooser("Choose a folder", FOLDER, send)),
    progress);
  bench.leaving(takesDrops(node, send));
  return node;
}
