// Making and changing elements. No markup is ever made from text, so nothing that a file says can become markup.

const SVG = "http://www.w3.org/2000/svg";

function prepare(node, properties, children) {
  for (const [name, value] of Object.entries(properties)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else if (name === "data") Object.assign(node.dataset, value);
    else if (name === "value") node.value = value;
    else node.setAttribute(name, value === true ? "" : value);
  }
  node.append(...children.flat(Infinity).filter((c) => c !== null && c !== undefined && c !== false));
  return node;
}

/**
 * An element: `el("button", {class: "quiet", onclick: f, disabled: true}, "Keep")`. Null and false properties and children
 * are left out; `data` fills the dataset.
 */
export const el = (tag, properties = {}, ...children) => prepare(document.createElement(tag), properties, children);

/** The same for SVG. */
export const svg = (tag, properties = {}, ...children) =>
  prepare(document.createElementNS(SVG, tag), properties, children);

/** Replaces all children. */
export function fill(node, ...children) {
  node.replaceChildren(...children.flat(Infinity).filter((c) => c !== null && c !== undefined && c !== false));
  return node;
}

/** A button that works by a promise: it is disabled while the work runs, and a refusal is shown as a notice. */
export function button(words, work, properties = {}) {
  const node = el("button", { type: "button", ...properties }, words);
  node.addEventListener("click", () => busy(node, () => work(node)));
  return node;
}

/** Disables a control while a promise runs; a refusal becomes a notice. Returns what the work returned. */
export async function busy(node, work) {
  if (node.getAttribute("aria-disabled") === "true") return undefined;
  // aria-disabled instead of disabled: the focus stays where it is.
  node.setAttribute("aria-disabled", "true");
  try {
    return await work();
  } catch (error) {
    if (error.name !== "AbortError") notice(error.message, "bad");
    return undefined;
  } finally {
    node.removeAttribute("aria-disabled");
  }
}

/**
 * A table with a caption; a cell is text or a node, and the first cell of a row names the row. With `class: "cards"` its rows
 * become cards where the window is narrow.
 */
export function table(caption, heads, rows, properties = {}) {
  return el("table", properties, el("caption", {}, caption),
    el("thead", {}, el("tr", {}, heads.map((h) => el("th", { scope: "col" }, h)))),
    el("tbody", {}, rows.map((row) => el("tr", {}, row.map((cell, i) =>
      i === 0 ? el("th", { scope: "row" }, cell) : el("td", { data: { head: heads[i] } }, cell))))));
}

/** Says something to a screen reader without showing it. */
export function announce(words) {
  const region = document.getElementById("announcer");
  if (region.textContent === words) region.textContent = "";
  region.textContent = words;
}

/** Shows a line at the top until it is closed; `kind` is "good", "note" or "bad". The same words are shown once. */
export function notice(words, kind = "note") {
  const place = document.getElementById("notices");
  const same = [...place.children].find((n) => n.dataset.words === words);
  same?.remove();
  const node = el("div", { class: `notice ${kind}`, role: kind === "bad" ? "alert" : "status", data: { words } },
    el("p", {}, words), el("button", { type: "button", class: "quiet", onclick: () => node.remove() }, "Close"));
  place.append(node);
  return () => node.remove();
}

/** Asks before something that cannot be undone: `await ask("Take out take-1.wav?", "The file is kept.", "Take out")`. */
export function ask(question, words, yes) {
  return new Promise((resolve) => {
    const back = document.activeElement;
    const dialog = el("dialog", { "aria-labelledby": "ask-title" }, el("h2", { id: "ask-title" }, question),
      el("p", {}, words), el("p", { class: "row" },
        el("button", { type: "button", class: "main", onclick: () => dialog.close("yes") }, yes),
        el("button", { type: "button", onclick: () => dialog.close("") }, "Leave it")));
    dialog.addEventListener("close", () => {
      dialog.remove();
      back?.focus?.();
      resolve(dialog.returnValue === "yes");
    });
    document.body.append(dialog);
    dialog.showModal();
  });
}
