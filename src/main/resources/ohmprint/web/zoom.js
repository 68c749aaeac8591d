// Looking closer along the frequency axis: by buttons, which keys work too, or by dragging over the plot.
import { announce, el } from "./dom.js";
import { hertz } from "./format.js";

const STEP = 2;
const LEAST_RATIO = 1.5;

/** Buttons for a range inside `whole`; `show(from, to)` is called with the range, `to(from, to)` sets it. */
export function zoomBar(whole, show) {
  let range = [...whole];
  const words = el("span", { class: "quiet-words zoom-words" });
  const one = (text, label, work) => el("button", { type: "button", title: label, "aria-label": label, onclick: work }, text);
  const set = (from, to) => {
    const most = Math.log(whole[1] / whole[0]);
    const width = Math.min(most, Math.max(Math.log(LEAST_RATIO), Math.log(to / from)));
    const middle = (Math.log(from) + Math.log(to)) / 2;
    const start = Math.min(Math.log(whole[1]) - width, Math.max(Math.log(whole[0]), middle - width / 2));
    range = [Math.exp(start), Math.exp(start + width)];
    tell();
    announce(words.textContent);
  };
  const tell = () => {
    const all = range[1] / range[0] > 0.99 * (whole[1] / whole[0]);
    words.textContent = `${hertz(range[0], 2)} to ${hertz(range[1], 2)}`;
    back.setAttribute("aria-disabled", String(all));
    show(all ? null : range[0], all ? null : range[1]);
  };
  const scale = (by) => {
    const middle = Math.sqrt(range[0] * range[1]);
    const half = Math.sqrt(range[1] / range[0]) ** by;
    set(middle / half, middle * half);
  };
  const shift = (by) => {
    const step = Math.sqrt(Math.sqrt(range[1] / range[0])) ** by;
    set(range[0] * step, range[1] * step);
  };
  const back = one("Whole range", "Show the whole range", () => set(...whole));
  const node = el("div", { class: "row zoom", role: "group", "aria-label": "Frequency range" },
    one("+", "Look closer", () => scale(1 / STEP)), one("−", "Look wider", () => scale(STEP)),
    one("◂", "Towards lower frequencies", () => shift(-1)), one("▸", "Towards higher frequencies", () => shift(1)), back, words);
  return { node, to: set, tell };
}
