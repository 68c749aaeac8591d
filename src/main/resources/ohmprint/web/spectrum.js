// The spectrum of a take as a small picture: signal above, noise below, on the axis of all pictures.
import { el, svg } from "./dom.js";
import { decibels, hertz } from "./format.js";

const WIDTH = 320;
const HEIGHT = 96;
const LEFT = 34;
const LOW = 16;
const TICKS = [[20, "20"], [100, "100"], [1000, "1k"], [10_000, "10k"]];

/** Draws `{frequency_hz, signal_dbfs, noise_dbfs}`; the words beside it say where the signal is least above the noise. */
export function spectrum(data, file) {
  const hz = data.frequency_hz;
  if (!hz?.length) return null;
  const noise = data.noise_dbfs ?? hz.map(() => null);
  const known = [...data.signal_dbfs, ...noise].filter((v) => v !== null && v !== undefined);
  const top = Math.ceil((Math.max(...known) + 3) / 20) * 20;
  const bottom = Math.max(top - 120, Math.floor(Math.min(...known) / 20) * 20);
  const span = Math.log(20_000 / 20);
  const x = (f) => LEFT + (WIDTH - LEFT - 4) * Math.log(f / 20) / span;
  const y = (db) => 4 + (HEIGHT - LOW - 4) * (top - Math.max(db, bottom)) / (top - bottom);
  const line = (values) => {
    let pen = "M";
    return hz.map((f, i) => {
      if (values[i] === null || values[i] === undefined) {
        pen = "M";
        return "";
      }
      const step = `${pen}${x(f).toFixed(1)} ${y(values[i]).toFixed(1)}`;
      pen = "L";
      return step;
    }).join("");
  };
  const levels = [];
  for (let db = top; db >= bottom; db -= 40) levels.push(db);
  return figure({ role: "img", "aria-label": `Spectrum of ${file}: ${inWords(data)}` }, [
    levels.map((db) => [svg("line", { class: "grid", x1: LEFT, x2: WIDTH - 4, y1: y(db), y2: y(db) }),
      svg("text", { class: "tick end", x: LEFT - 4, y: y(db) + 4 }, String(db).replace("-", "\u2212"))]),
    TICKS.map(([f, words]) => [svg("line", { class: "grid", x1: x(f), x2: x(f), y1: 4, y2: HEIGHT - LOW }),
      svg("text", { class: "tick mid", x: x(f), y: HEIGHT - 3 }, words)]),
    svg("path", { class: "noise", d: line(noise) }), svg("path", { class: "signal", d: line(data.signal_dbfs) })]);
}

/** The same without a line, as large: it keeps the place until the take has been looked at. */
export const awaited = () => figure({ "aria-hidden": "true" }, []);

const figure = (names, drawn) => el("figure", { class: "spectrum" }, svg("svg", { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, ...names }, drawn),
  el("figcaption", {}, el("span", { class: "key signal" }, "signal"), " ", el("span", { class: "key noise" }, "noise"), " dBFS over Hz"));

/** Where the signal stands least above the noise. */
export function inWords({ frequency_hz: hz, signal_dbfs: signal, noise_dbfs: noise }) {
  let least = -1;
  if (!noise) return "the noise is not known";
  hz.forEach((_, i) => {
    if (signal[i] === null || noise[i] === null || noise[i] === undefined) return;
    if (least < 0 || signal[i] - noise[i] < signal[least] - noise[least]) least = i;
  });
  return least < 0 ? "the noise is not known" : `least ${decibels(signal[least] - noise[least], 0)} above the noise, at ${hertz(hz[least])}`;
}
