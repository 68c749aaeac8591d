// What a load does: moved live over the curve, with the inputs of the workshop as marks.
import { get, latest, post, query } from "./api.js";
import { audition } from "./audition.js";
import { graph } from "./graph.js";
import { markStrip } from "./slider-marks.js";
import { answers, roundedUp } from "./load-results.js";
import { el, fill } from "./dom.js";
import { field, readNumber, readOhms } from "./fields.js";
import { fixed, ohms } from "./format.js";

const LEAST = 150;
const MOST = 40_000;
const STEPS = 1000;
const toStep = (ohm) => Math.round(STEPS * Math.log(ohm / LEAST) / Math.log(MOST / LEAST));
const toOhm = (step) => Number((LEAST * (MOST / LEAST) ** (step / STEPS)).toPrecision(3));

/** The section; hidden until there is a curve. */
export function loadControl(bench) {
  const start = Math.min(MOST, Math.max(LEAST, Number(bench.address.query.get("load")) || 1500));
  const slider = el("input", { type: "range", id: "load-slider", min: 0, max: STEPS, step: 1, value: String(toStep(start)) });
  const number = field({ label: "Load", unit: "Ω", value: String(start), inputmode: "decimal" });
  const farads = field({ label: "Its capacitance", unit: "pF", value: "0", inputmode: "decimal" });
  const metres = field({ label: "Cable", unit: "m", value: "0", inputmode: "decimal" });
  const perMetre = field({ label: "of", unit: "pF/m", value: "100", inputmode: "decimal" });
  const sensitivity = field({ label: "Sensitivity", unit: "mV/Pa", value: "", inputmode: "decimal", hint: "for level and noise" });
  const pressure = field({ label: "Sound level", unit: "dB SPL", value: "94", inputmode: "decimal" });
  const noise = field({ label: "Preamplifier’s input noise", unit: "dBu", value: "", hint: "EIN; may stay empty" });
  const marks = markStrip();
  const told = answers();
  const place = el("div", {});
  const trouble = el("p", { class: "error", role: "status" });
  const listen = audition(bench);
  let ohm = start;
  let plot = null;
  let timer = 0;

  const question = () => ({
    curve: bench.ref, load_ohm: ohm, capacitance_pf: readNumber(farads.input.value, "Capacitance", "picofarads", { min: 0, max: 1e6, empty: 0 }),
    cable_m: readNumber(metres.input.value, "Cable", "metres", { min: 0, max: 10_000, empty: 0 }),
    cable_pf_per_m: readNumber(perMetre.input.value, "Cable", "picofarads per metre", { min: 0, max: 10_000, empty: 0 }),
    phantom_feeds: false,
    sensitivity_mv: readNumber(sensitivity.input.value, "Sensitivity", "millivolts per pascal", { min: 0, max: 1e5, empty: null }),
    spl_db: readNumber(pressure.input.value, "Sound level", "decibels", { min: 0, max: 180, empty: 94 }),
    preamplifier: noise.input.value.trim() ? { gain_db: null, ein_dbu: readNumber(noise.input.value.replace("−", "-"), "Input noise", "dBu", { min: -160, max: 0 }) } : null,
  });
  const ask = latest((q) => post("/api/match", q), (answer) => {
    fill(trouble);
    const lines = [
      line("Level against no load", answer.frequency_hz, answer.loss_db.map(negative), answer.loss_u95_db, { colour: "microphone" }, bounds(answer)),
      line("Response, 0 dB at 1 kHz", answer.frequency_hz, answer.change_db, answer.change_u95_db, { colour: "load", dashed: 1 }),
    ];
    if (plot) plot.update({ lines });
    else plot = graph(place, { title: "What this load does, in dB", least: 1, height: 13, lines, hz: bench.hz, moved: (hz) => bench.at(hz) });
    told.show(answer);
    slider.setAttribute("aria-valuetext", told.sentence(ohm, answer));
  }, (error) => fill(trouble, error.message));

  const set = (value, from) => {
    ohm = value;
    if (from !== slider) slider.value = String(toStep(value));
    if (from !== number.input) number.input.value = String(value);
    change();
  };
  const change = () => {
    if (!bench.curve) return;
    try {
      ask(question());
    } catch (error) {
      fill(trouble, error.message);
    }
    clearTimeout(timer);
    timer = setTimeout(() => bench.address.replace({ load: ohm }), 300);
    listen.load({ load_ohm: ohm, capacitance_pf: Number(farads.input.value) || 0 });
  };
  slider.addEventListener("input", () => set(toOhm(Number(slider.value)), slider));
  number.input.addEventListener("input", () => {
    try {
      const value = readOhms(number.input.value);
      if (value < LEAST || value > MOST) throw new Error(`The load goes from ${ohms(LEAST)} to ${ohms(MOST)}.`);
      number.error(null);
      set(value, number.input);
    } catch (error) {
      number.error(error.message);
    }
  });
  [farads, metres, perMetre, sensitivity, pressure, noise].forEach((f) => f.input.addEventListener("input", change));

  const node = el("section", { class: "sheet load-control", "aria-labelledby": "load-title", hidden: true },
    el("h2", { id: "load-title" }, "What a load does"),
    el("div", { class: "load-row" }, el("div", { class: "load-slide" }, el("label", { class: "unseen", for: "load-slider" }, "Load"), slider, marks.node), number.node),
    trouble, el("div", { class: "load-answers" }, told.node, place),
    el("details", {}, el("summary", {}, "Cable, capacitance, level and noise"),
      el("div", { class: "columns" }, [farads, metres, perMetre, sensitivity, pressure, noise].map((f) => f.node))),
    listen.node);
  bench.watchCurve(async (curve) => {
    node.hidden = !curve;
    if (!curve) return;
    set(ohm, null);
    const known = await get("/api/inputs" + query({ curve: bench.ref })).catch(() => null);
    if (known) fill(noise.node.querySelector(".hint"), `EIN with a source of ${ohms(known.ein_source_ohm)}; may stay empty`);
    if (known) marks.show(workshop(known, (value) => set(value, null)));
    told.inputs(known);
  });
  bench.watchHz((hz) => plot?.moveTo(hz));
  bench.leaving(() => {
    clearTimeout(timer);
    plot?.dispose();
  });
  return node;
}

const band = (values, u95, sign) => values.map((v, i) => (v === null || u95[i] === null ? null : v + sign * u95[i]));
const bounds = (a) => ({ low: a.loss_high_db?.map(negative), high: a.loss_low_db?.map(negative) });
const line = (label, hz, value, u95, more, bound = {}) => ({ label, hz, value,
  low: band(value, u95, -1).map((v, i) => v ?? bound.low?.[i] ?? null), high: band(value, u95, 1).map((v, i) => v ?? bound.high?.[i] ?? null),
  words: (i) => (value[i] === null ? "not determined" : u95[i] ? `${fixed(value[i], 2)} ± ${fixed(roundedUp(u95[i], 2), 2)} dB` : `${fixed(value[i], 2)} dB`), ...more });
const negative = (v) => (v === null || v === undefined ? null : -v);

/** The workshop's inputs that the slider reaches, as marks below it. */
const workshop = (known, choose) => (known.inputs ?? []).filter((i) => i.load_ohm >= LEAST && i.load_ohm <= MOST)
  .map((i) => ({ share: toStep(i.load_ohm) / STEPS, name: i.name, words: ohms(i.load_ohm), choose: () => choose(i.load_ohm) }));
