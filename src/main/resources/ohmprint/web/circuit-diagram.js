// The divider as a drawing: source behind Z, load, input. It follows the places that the fields leave free for it.
import { fill, svg } from "./dom.js";

const WIRE = "wire";

/**
 * Draws the circuit into an SVG that covers `box`.
 *
 * @param picture the SVG element
 * @param places {microphone, load, input}: elements in whose midst the symbols stand
 * @param open whether no resistor is fitted
 * @param unknown whether the input's resistance is not known
 * @param words {load, input, capacitance}: what stands beside the symbols where there is room
 */
export function drawDivider(picture, box, places, { open, unknown, words }) {
  const frame = box.getBoundingClientRect();
  if (!frame.width) return;
  picture.setAttribute("viewBox", `0 0 ${frame.width} ${frame.height}`);
  const upright = getComputedStyle(box).getPropertyValue("--way").trim() === "down";
  const spots = Object.fromEntries(Object.entries(places).map(([key, node]) => {
    const r = node.getBoundingClientRect();
    return [key, { x: r.left - frame.left, y: r.top - frame.top, w: r.width, h: r.height }];
  }));
  fill(picture, ...(upright ? down(spots, open, unknown) : across(spots, open, unknown, words)));
}

/** Rails above and below, symbols upright between them. */
function across(spots, open, unknown, words) {
  const top = spots.load.y + 8;
  const low = spots.load.y + spots.load.h - 8;
  const mid = (top + low) / 2;
  const x = Object.fromEntries(Object.entries(spots).map(([k, s]) => [k, s.x + s.w / 2]));
  const inputs = [x.input - 14, x.input + 16];
  const boxX = x.microphone + 34;
  return [
    wire(x.microphone, low, inputs[1], low),
    wire(x.microphone, top, boxX, top), wire(boxX + 52, top, inputs[1], top),
    wire(x.microphone, top, x.microphone, mid - 20), wire(x.microphone, mid + 20, x.microphone, low),
    source(x.microphone, mid), impedance(boxX, top - 10, 52, 20, boxX + 26, top),
    shunt("load", x.load, top, low, mid, open),
    node(x.load, top, "load"), node(x.load, low, "load"), node(inputs[0], top), node(inputs[0], low),
    shunt("input", inputs[0], top, low, mid, unknown), capacitor(inputs[1], top, low, mid),
    text(x.load + 16, mid + 5, words.load, "load"), text(inputs[0] - 14, mid + 5, words.input, "input last"), text(inputs[1] + 16, mid - 14, words.capacitance, "input"),
    text(inputs[1] + 6, top + 5, "D", "input"),
  ];
}

/** The same turned: rails to the left and right, symbols lying between them. */
function down(spots, open, unknown) {
  const left = spots.load.x + 12;
  const right = spots.load.x + spots.load.w - 8;
  const mid = (left + right) / 2;
  const y = Object.fromEntries(Object.entries(spots).map(([k, s]) => [k, s.y + Math.min(s.h / 2, 40)]));
  const inputs = [y.input - 12, y.input + 18];
  const turn = (x, at, child) => svg("g", { transform: `translate(${x} ${at}) rotate(-90)` }, child);
  return [
    wire(right, y.microphone, right, inputs[1]),
    wire(left, y.microphone, left, y.microphone + 34), wire(left, y.microphone + 86, left, inputs[1]),
    wire(left, y.microphone, mid - 20, y.microphone), wire(mid + 20, y.microphone, right, y.microphone),
    source(mid, y.microphone), impedance(left - 10, y.microphone + 34, 20, 52, left, y.microphone + 60),
    node(left, y.load, "load"), node(right, y.load, "load"), node(left, inputs[0]), node(right, inputs[0]),
    turn(left, y.load, shunt("load", 0, 0, right - left, (right - left) / 2, open)),
    turn(left, inputs[0], shunt("input", 0, 0, right - left, (right - left) / 2, unknown)),
    turn(left, inputs[1], capacitor(0, 0, right - left, (right - left) / 2)),
  ];
}

const wire = (x1, y1, x2, y2, kind = "") => svg("line", { class: `${WIRE} ${kind}`, x1, y1, x2, y2 });
const node = (cx, cy, kind = "input") => svg("circle", { class: `joint ${kind}`, cx, cy, r: 3.5 });
const text = (x, y, words, kind) => svg("text", { class: `letter ${kind}`, x, y }, words);

/** A voltage source: a circle with one wave. */
const source = (x, y) => svg("g", { class: "microphone" }, svg("circle", { class: "symbol", cx: x, cy: y, r: 20 }),
  svg("path", { class: "line", d: `M${x - 10} ${y}c3 -11 7 -11 10 0s7 11 10 0` }));

/** What is looked for: a box on the rail. */
const impedance = (x, y, w, h, tx, ty) => svg("g", { class: "microphone" },
  svg("rect", { class: "symbol", x, y, width: w, height: h, rx: 2 }), svg("text", { class: "letter middle", x: tx, y: ty + 5 }, "Z"));

/** A resistor between the rails; a gap when there is none, a dashed box when it is not known. */
function shunt(kind, x, top, low, mid, absent) {
  const half = Math.min(26, (low - top) / 2 - 8);
  if (absent && kind === "load") {
    return svg("g", { class: kind }, wire(x, top, x, mid - 16, kind), wire(x, mid + 16, x, low, kind),
      svg("circle", { class: "end", cx: x, cy: mid - 16, r: 3.5 }), svg("circle", { class: "end", cx: x, cy: mid + 16, r: 3.5 }));
  }
  return svg("g", { class: kind }, wire(x, top, x, mid - half, kind), wire(x, mid + half, x, low, kind),
    svg("rect", { class: absent ? "symbol unsure" : "symbol", x: x - 9, y: mid - half, width: 18, height: 2 * half, rx: 2 }));
}

const capacitor = (x, top, low, mid) => svg("g", { class: "input" }, wire(x, top, x, mid - 4, "input"), wire(x, mid + 4, x, low, "input"),
  svg("path", { class: "line", d: `M${x - 10} ${mid - 4}h20M${x - 10} ${mid + 4}h20` }));
