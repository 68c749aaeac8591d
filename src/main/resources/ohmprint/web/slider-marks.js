// Marks below a slider: each stands under its place, and they keep out of each other's way.
import { el, fill } from "./dom.js";

const THUMB_PX = 16;
const ROW_REM = 2;

/**
 * A strip of marks: `{node, show([{share, name, words, choose}])}`; `share` is the place on the slider from 0 to 1.
 */
export function markStrip() {
  const node = el("div", { class: "marks", role: "group", "aria-label": "Inputs of the workshop" });
  let marks = [];
  const lay = () => {
    const width = node.clientWidth;
    if (!width) return;
    const ends = [];
    for (const { tick, button, share } of marks) {
      const at = THUMB_PX / 2 + share * (width - THUMB_PX);
      const wide = button.offsetWidth;
      const left = Math.max(0, Math.min(width - wide, at - wide / 2));
      let row = ends.findIndex((end) => end + 4 <= left);
      if (row < 0) row = ends.length;
      ends[row] = left + wide;
      tick.style.left = `${at}px`;
      tick.style.height = `${row * ROW_REM + 0.5}rem`;
      button.style.left = `${left}px`;
      button.style.top = `${row * ROW_REM + 0.4}rem`;
    }
    node.style.height = `${ends.length * ROW_REM + (ends.length ? 0.4 : 0)}rem`;
  };
  new ResizeObserver(lay).observe(node);
  return {
    node,
    show(all) {
      marks = [...all].sort((a, b) => a.share - b.share).map((m) => ({
        share: m.share,
        tick: el("span", { class: "mark-tick", "aria-hidden": "true" }),
        button: el("button", { type: "button", class: "mark-input", onclick: m.choose }, m.name, el("span", { class: "unseen" }, `, ${m.words}`)),
      }));
      fill(node, marks.flatMap((m) => [m.tick, m.button]));
      lay();
    },
  };
}
