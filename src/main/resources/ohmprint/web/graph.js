// One plot over frequency: lines with bands, limits behind them, a cursor for mouse, finger and keys, words beside it.
import uPlot from "/lib/uplot.js";
import { el, fill } from "./dom.js";
import { DASHES, asTable, keyOf, sample } from "./graph-key.js";
import { aligned, linearRange, logRange, nearest } from "./graph-lines.js";
import { DARK, axesOf, inkOf, paintLimits } from "./graph-paint.js";
import { significant } from "./format.js";

const OCTAVE = 2;
const LEAST_DRAG_PX = 8;

/** How the curve in a place is drawn where several lie over each other: the first strongly, the others thinly. */
export const lookOf = (i) => ({ colour: i, dashed: i, thin: i > 0 });

/** A short piece of a line as a plot draws it, for lists beside it: `{colour, dashed, thin}` as for `graph`. */
export function lineSample({ colour, dashed = 0, thin = false, band = true }) {
  return sample({ ink: inkOf(colour, getComputedStyle(document.documentElement)), dash: DASHES[dashed % DASHES.length], thin, band });
}

/** Lines with everything that a drawing needs, from what a view states of them. */
function dressed(lines, styles) {
  return lines.map((line, i) => ({
    ...line,
    ink: inkOf(line.colour ?? i, styles),
    dash: line.dashed === undefined ? DASHES[0] : DASHES[line.dashed % DASHES.length],
    band: Boolean(line.low && line.high),
    words: line.words ?? ((j) => (line.value[j] === null ? "not determined" : significant(line.value[j], 4))),
  }));
}

/** Where single points are drawn: at marks, and where a value has no neighbours to be joined with. */
function pointsOf(line, column, place) {
  const dots = new Set((line.dots ?? []).map((on, i) => (on ? place(line.hz[i]) : -1)));
  const own = column.map((v, i) => (v === undefined ? -1 : i)).filter((i) => i >= 0);
  return own.filter((i, k) => dots.has(i) || (column[i] !== null
    && (column[own[k - 1]] ?? null) === null && (column[own[k + 1]] ?? null) === null));
}

function seriesOf(lines, hz, columns) {
  const series = [{}];
  const bands = [];
  const place = (f) => nearest(hz, f);
  lines.forEach((line, i) => {
    const end = { stroke: "transparent", width: 0, points: { show: false }, scale: "y" };
    const dots = pointsOf(line, columns[3 * i], place);
    series.push({ scale: "y", stroke: line.bandOnly ? "transparent" : line.ink, width: line.thin ? 1 : 2, dash: line.dash,
      points: { show: dots.length > 0, size: line.thin || line.dots ? 5 : 7, stroke: line.ink, fill: line.ink, filter: () => dots } });
    series.push({ ...end }, { ...end });
    if (line.band) bands.push({ series: [series.length - 1, series.length - 2], fill: line.ink + (line.bandOnly ? "44" : "30") });
  });
  return { series, bands };
}

/**
 * Draws a plot into `place` and keeps it fitting. `spec` holds
 * - `title` for the figure, such as "Magnitude of Z in Ω"; `height` in root ems;
 * - `log` for a logarithmic axis; `least` for a linear one, the smallest span above and below zero; or `range` `[low, high]`;
 * - `lines`: `{label, hz, value, low?, high?, colour?, dashed?, thin?, dots?, bandOnly?, unnamed?, words(i)?}`;
 * - `limits`: allowed ranges, see `paintLimits`;
 * - `hz`: where the cursor is at first, and `moved(hz)` to hear where it goes;
 * - `chosen(fromHz, toHz)`: hears which range was marked by dragging with the mouse, which otherwise marks nothing;
 * - `bare`: whether key and table are left to the view.
 * Returns `{update(changes), moveTo(hz), show(fromHz, toHz), dispose()}`. An update that changes only values is drawn into what is
 * there, so that it can follow a slider.
 */
export function graph(place, spec) {
  const host = el("div", { class: "graph-host", role: "slider", tabindex: 0 });
  const beside = el("div");
  const figure = el("figure", { class: "graph" }, el("figcaption", {}, spec.title), host, beside);
  place.append(figure);
  let current = { ...spec };
  let chart = null;
  let key = null;
  let hz = [];
  let cursor = spec.hz ?? null;
  let range = null;
  let drawn = [];
  let values = [];
  let vertical = [1, 10];
  let grab = null;

  const moveTo = (f, tell = false) => {
    cursor = f === null || !hz.length ? f : hz[nearest(hz, f)];
    if (!chart) return;
    chart.setCursor(cursor === null ? { left: -10, top: -10 } : { left: chart.valToPos(cursor, "x"), top: 10 }, false);
    key.tell(cursor);
    const i = cursor === null ? 0 : hz.indexOf(cursor);
    host.setAttribute("aria-valuenow", String(i));
    host.setAttribute("aria-valuetext", cursor === null ? "no frequency chosen" : key.sentence(cursor));
    if (tell && cursor !== null) current.moved?.(cursor);
  };

  /** The cursor keeps its frequency when the scales, which uPlot settles just before it draws, have changed. */
  const stand = (u) => {
    if (cursor !== null) u.setCursor({ left: u.valToPos(cursor, "x"), top: 10 }, false);
  };

  const draw = () => {
    chart?.destroy();
    const styles = getComputedStyle(document.documentElement);
    const root = parseFloat(styles.fontSize);
    const lines = dressed(current.lines, styles);
    drawn = lines;
    const side = aligned(lines, (line) => [line.value, line.band ? line.low : [], line.band ? line.high : []]);
    hz = side.hz;
    const { series, bands } = seriesOf(lines, hz, side.columns);
    const first = Math.min(20, hz[0] ?? 20);
    const last = Math.max(20000, hz[hz.length - 1] ?? 20000);
    vertical = verticalRange(current, lines);
    chart = new uPlot({
      width: Math.max(200, host.clientWidth), height: (current.height ?? 18) * root, padding: [8, 12, 0, 0], pxAlign: 0,
      legend: { show: false }, series, bands, axes: axesOf(current, styles, root),
      scales: { x: { time: false, distr: 3, range: () => range ?? [first, last] }, y: { distr: current.log ? 3 : 1, range: () => vertical } },
      cursor: { y: false, drag: { x: false, y: false }, bind: { mousemove: () => null, mouseleave: () => null, mousedown: () => null,
        mouseup: () => null, click: () => null, dblclick: () => null }, points: { size: 9 } },
      hooks: { ready: [() => moveTo(cursor)], drawAxes: [(u) => paintLimits(u, current.limits ?? [], styles)], draw: [stand] },
    }, [hz, ...side.columns], host);
    key = keyOf(lines);
    values = current.bare ? [] : [asTable(current.title, lines)];
    fill(beside, current.bare ? null : key.node, values);
    host.setAttribute("aria-label", `Frequency in ${current.title}`);
    host.setAttribute("aria-valuemin", "0");
    host.setAttribute("aria-valuemax", String(Math.max(0, hz.length - 1)));
    moveTo(cursor);
  };

  /** New values in lines that are there already; false when more than values has changed. */
  const redraw = (lines) => {
    if (!chart || lines.length !== drawn.length || lines.some((line, i) => !sameShape(line, drawn[i]))) return false;
    lines.forEach((line, i) => Object.assign(drawn[i], { value: line.value, low: line.low, high: line.high, words: line.words ?? drawn[i].words }));
    const side = aligned(drawn, (line) => [line.value, line.band ? line.low : [], line.band ? line.high : []]);
    vertical = verticalRange(current, drawn);
    chart.setData([hz, ...side.columns]);
    values.forEach((table) => table.refresh());
    moveTo(cursor);
    return true;
  };

  const mark = (event, left) => {
    if (event.type === "pointerdown" && event.pointerType === "mouse" && !event.button && current.chosen) {
      grab = left;
      host.setPointerCapture(event.pointerId);
    }
    if (grab === null) return;
    const width = chart.over.clientWidth;
    const [from, to] = [grab, left].map((x) => Math.min(width, Math.max(0, x))).sort((a, b) => a - b);
    if (event.type === "pointerup" || event.type === "pointercancel") {
      grab = null;
      chart.setSelect({ left: 0, width: 0, top: 0, height: 0 }, false);
      if (event.type === "pointerup" && to - from > LEAST_DRAG_PX) current.chosen(chart.posToVal(from, "x"), chart.posToVal(to, "x"));
    } else if (to - from > LEAST_DRAG_PX) {
      chart.setSelect({ left: from, width: to - from, top: 0, height: chart.over.clientHeight }, false);
    }
  };

  const byPointer = (event) => {
    if (!chart || (event.pointerType !== "mouse" && event.type === "pointermove" && !event.buttons)) return;
    const left = event.clientX - chart.over.getBoundingClientRect().left;
    mark(event, left);
    if (event.type !== "pointerup" && left >= 0 && left <= chart.over.clientWidth) moveTo(chart.posToVal(left, "x"), true);
  };
  const byKey = (event) => {
    const here = cursor === null ? nearest(hz, 1000) : hz.indexOf(cursor);
    const octave = (up) => nearest(hz, hz[here] * (up ? OCTAVE : 1 / OCTAVE));
    const to = { ArrowLeft: here - 1, ArrowDown: here - 1, ArrowRight: here + 1, ArrowUp: here + 1, Home: 0, End: hz.length - 1,
      PageUp: octave(true), PageDown: octave(false) }[event.key];
    if (to === undefined || !hz.length) return;
    event.preventDefault();
    moveTo(hz[Math.min(hz.length - 1, Math.max(0, cursor === null ? here : to))], true);
  };
  ["pointermove", "pointerdown", "pointerup", "pointercancel"].forEach((name) => host.addEventListener(name, byPointer));
  host.addEventListener("keydown", byKey);
  DARK.addEventListener("change", draw);
  const sizes = new ResizeObserver(() => {
    const width = Math.max(200, host.clientWidth);
    if (!chart) draw();
    else if (Math.abs(width - chart.width) > 1) {
      chart.setSize({ width, height: chart.height });
      moveTo(cursor);
    }
  });
  sizes.observe(host);

  return {
    update(changes) {
      current = { ...current, ...changes };
      if (Object.keys(changes).join() !== "lines" || !redraw(current.lines)) draw();
    },
    moveTo,
    show(from, to) {
      range = from === null ? null : [from, to];
      chart?.setScale("x", { min: range?.[0], max: range?.[1] });
      moveTo(cursor);
    },
    dispose() {
      sizes.disconnect();
      DARK.removeEventListener("change", draw);
      chart?.destroy();
      figure.remove();
    },
  };
}

/** Whether a line differs from what is drawn in nothing but its values. */
const sameShape = (line, old) => line.label === old.label && Boolean(line.low && line.high) === old.band && !line.dots && !old.dots
  && line.hz.length === old.hz.length && (line.hz === old.hz || line.hz.every((f, i) => f === old.hz[i]));

const verticalRange = (spec, lines) => spec.range
  ?? (spec.log ? logRange([...lines, ...limitLines(spec.limits)]) : linearRange(lines, spec.least ?? 10));

/** Limits count for the range of the axis too. */
const limitLines = (limits = []) => [{ value: limits.flatMap((l) => [l.low, l.high]), hz: [] }];

/** Graphs that share one cursor: returns what each gets as `moved`. */
export function together(graphs, moved = () => {}) {
  return (hz) => {
    for (const one of graphs) one.moveTo(hz);
    moved(hz);
  };
}
