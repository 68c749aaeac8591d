// The live level: a bar over a scale in dBFS with the highest peak held, a lamp for clipping, and how much of the take is done.
import { el } from "./dom.js";
import { decibels } from "./format.js";

const LOWEST = -60;
const CLIP_DBFS = -0.1;
const SPOKEN_MS = 3000;

/** Ticks of the scale in dBFS with their labels; as many as a narrow window has room for. */
const TICKS = [[-60, "−60"], [-50], [-40, "−40"], [-30], [-20, "−20"], [-10], [0, "0 dBFS"]];

/** Full scale at the right; the good range of peaks, −20 to −3 dBFS, is marked. */
export function meter(bench) {
  const share = (db) => `${(100 * (Math.max(LOWEST, Math.min(0, db)) - LOWEST)) / -LOWEST}%`;
  const bar = el("div", { class: "meter-bar" });
  const hold = el("div", { class: "meter-hold" });
  const good = el("div", { class: "meter-good" });
  const words = el("span", { class: "meter-words" }, "no level yet");
  const lamp = el("span", { class: "lamp" }, "clip");
  const done = el("progress", { max: 1, value: 0, "aria-label": "Part of the take that is recorded" });
  const scale = el("div", { class: "meter", role: "meter", "aria-label": "Level", "aria-valuemin": LOWEST, "aria-valuemax": 0, "aria-valuenow": LOWEST },
    good, bar, hold);
  const ticks = el("div", { class: "meter-scale", "aria-hidden": "true" }, TICKS.map(([db, label]) => {
    const tick = el("span", { class: db === 0 ? "meter-tick last" : "meter-tick", data: { db } }, label);
    tick.style.left = share(db);
    return tick;
  }));
  const spoken = el("span", { class: "unseen", role: "status" });
  let highest = -Infinity;
  let said = 0;
  good.style.left = share(-20);
  good.style.width = `${(100 * 17) / 60}%`;

  // Bar, hold and lamp go red together and stay so until the next take: a short clip is over before anyone has looked.
  const clipped = (now) => {
    scale.classList.toggle("clipped", now);
    lamp.classList.toggle("lit", now);
    lamp.textContent = now ? "CLIPPED" : "clip";
  };

  bench.watchLevel((level) => {
    if (level.share < done.value) {
      highest = -Infinity;
      clipped(false);
    }
    const peak = level.peak_dbfs ?? LOWEST;
    highest = Math.max(highest, peak);
    done.value = level.share;
    bar.style.width = share(peak);
    hold.style.left = share(highest);
    if (peak >= CLIP_DBFS) clipped(true);
    const told = `peak ${decibels(highest, 1, "dBFS")}, now ${decibels(level.rms_dbfs, 0, "dBFS")} r.m.s.`;
    words.textContent = told;
    scale.setAttribute("aria-valuenow", String(Math.round(peak)));
    scale.setAttribute("aria-valuetext", told);
    if (performance.now() - said > SPOKEN_MS) {
      said = performance.now();
      spoken.textContent = told;
    }
  });
  bench.watch((state) => {
    if (state.recorder?.step === "sounding") return;
    done.value = 0;
    highest = -Infinity;
    clipped(false);
  });
  return { node: el("div", { class: "meter-box" }, scale, ticks, el("p", { class: "row ends" }, words, lamp), done, spoken) };
}
