// How a plot over frequency looks: its colours, its axes, and what is painted behind the lines.
import { NAMED_HZ, axisHz, logSplits } from "./graph-lines.js";
import { significant } from "./format.js";

/** Okabe and Ito's colours in the order of the program's pictures; on the dark ground its lighter ones. */
const SERIES = {
  light: ["#0072b2", "#d55e00", "#009e73", "#cc79a7", "#e69f00", "#56b4e9"],
  dark: ["#56b4e9", "#e69f00", "#009e73", "#cc79a7", "#f0e442", "#d55e00"],
};
export const DARK = matchMedia("(prefers-color-scheme: dark)");
const NARROW = 430;
const FEW_HZ = new Set([20, 100, 1000, 10000]);

/** The ink of a line: the place in the order of colours, or the name of a colour of the style sheet. */
export function inkOf(colour, styles) {
  if (typeof colour === "string") return styles.getPropertyValue(`--${colour}`).trim();
  return SERIES[DARK.matches ? "dark" : "light"][colour % SERIES.light.length];
}

/** Paints allowed ranges behind the lines: each `{from, to, low, high}` lets |Z| lie between its limits in that range of Hz. */
export function paintLimits(u, limits, styles) {
  const c = u.ctx;
  const good = styles.getPropertyValue("--good").trim();
  const { left, top, width, height } = u.bbox;
  const x = (hz) => Math.min(left + width, Math.max(left, u.valToPos(hz, "x", true)));
  const y = (v) => Math.min(top + height, Math.max(top, u.valToPos(v, "y", true)));
  c.save();
  for (const limit of limits) {
    const from = Math.round(x(limit.from));
    const to = Math.round(x(limit.to));
    const upper = limit.high === null ? top : y(limit.high);
    const lower = limit.low === null ? top + height : y(limit.low);
    c.globalAlpha = 0.13;
    c.fillStyle = good;
    c.fillRect(from, upper, to - from, lower - upper);
    c.globalAlpha = 1;
    c.fillRect(from, upper - 1, limit.high === null ? 0 : to - from, 2);
    c.fillRect(from, lower - 1, limit.low === null ? 0 : to - from, 2);
  }
  c.restore();
}

/** The axes of a plot: frequency below, values at the left; `root` is the size of a letter in pixels. */
export function axesOf(spec, styles, root) {
  const common = { stroke: styles.getPropertyValue("--quiet").trim(), font: `${0.75 * root}px system-ui, "DejaVu Sans", sans-serif`,
    grid: { stroke: styles.getPropertyValue("--line").trim(), width: 1 }, ticks: { show: false } };
  return [
    { ...common, size: 1.9 * root, splits: (u) => NAMED_HZ.filter((f) => f >= u.scales.x.min * 0.99 && f <= u.scales.x.max * 1.01),
      values: (u, all) => all.map((f) => (u.width >= NARROW || FEW_HZ.has(f) ? axisHz(f) : "")), filter: (u, all) => all },
    { ...common, scale: "y", size: 3.4 * root, filter: (u, all) => all,
      values: (u, all) => all.map((v) => (v === null ? "" : spec.log && v >= 1000 ? axisHz(v) : significant(v, 3))),
      ...(spec.log ? { splits: (u) => logSplits(u.scales.y.min, u.scales.y.max) } : {}) },
  ];
}
