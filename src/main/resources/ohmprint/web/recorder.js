// Recording with this computer: what is to be done now, and the one or two things that can be done about it.
import { get } from "./api.js";
import { deviceForm } from "./devices.js";
import { meter } from "./meter.js";
import { announce, button, el, fill } from "./dom.js";
import { decibels, hertz, ohms, percent, seconds, significant } from "./format.js";
import { findings } from "./verdict-view.js";

/** The panel. What it shows follows from the state that the server tells, so that all windows show the same. */
export function recorder(bench) {
  const body = el("div", { class: "recorder-body" });
  const title = el("h2", { id: "recorder-title" }, "Recording");
  const level = meter(bench);
  const say = (what) => bench.send("POST", ["recorder"], { do: what });
  const act = (words, what, kind = "") => button(words, () => say(what), { class: kind });
  const looking = el("span", { class: "examining" });
  let shown = "";
  let preparing = null;

  const draw = (state) => {
    const r = state.recorder;
    if (!r && preparing) return;
    const sign = JSON.stringify(r ?? null);
    if (sign === shown) return;
    const before = shown ? JSON.parse(shown)?.step : undefined;
    shown = sign;
    preparing = null;
    // The button that was pressed goes; the one that comes instead takes the focus over.
    const held = body.contains(document.activeElement) || document.activeElement?.closest(".take.waits");
    fill(body, ...(r ? running(r, act, level, state) : idle()));
    if (held && r?.step !== before) setTimeout(() => (document.querySelector(r?.step === "judge" ? ".take.waits button.main" : ".recorder-body button.main")
      ?? body.querySelector("button"))?.focus());
    if (r && r.step !== before) announce(inWords(r));
  };

  const idle = () => [
    el("p", { class: "quiet-words" }, "Plays a sound, records one take for each load, and checks it at once."),
    el("p", { class: "row" }, button("Record with this computer", async () => {
      fill(looking, "Examining the sound devices of this computer. This takes a few seconds.");
      announce(looking.textContent);
      const devices = await get("/api/devices").finally(() => fill(looking));
      preparing = deviceForm(bench, devices.devices ?? [], () => {
        preparing = null;
        shown = "";
        draw(bench.state);
        body.querySelector("button")?.focus();
      });
      fill(body, preparing);
      preparing.querySelector("input, select")?.focus();
    }, { class: bench.state.takes.length ? "" : "main" }), looking)];

  bench.watch(draw);
  return el("section", { class: "sheet recorder", "aria-labelledby": "recorder-title" }, title, body);
}

function inWords(r) {
  return {
    cautions: "Cautions to read.",
    level: r.level ? levelWords(r.level) : `Fit ${ohms(r.level_ohm)} across pins 2 and 3 and check the level.`,
    fit: `Fit ${ohms(r.next_ohm)} across pins 2 and 3.`,
    sounding: "It plays and records.",
    judge: r.take?.usable ? "The take can be used. Keep it or repeat it." : "The take is spoilt. Repeat it, or keep it all the same.",
    done: "All takes are recorded.",
  }[r.step] ?? "";
}

function running(r, act, level, state) {
  const foot = (...more) => el("div", { class: "row ends" }, el("span", { class: "quiet-words" }, r.recorder ?? "", " · ", seconds(r.take_seconds), " a take"),
    ...more, ["sounding", "judge"].includes(r.step) ? null : act("Put the recorder away", "close", "quiet"));
  const trouble = r.error ? el("p", { class: "finding bad", role: "alert" }, r.error) : null;
  switch (r.step) {
    case "cautions":
      return [trouble, el("div", { class: "cautions-now" }, el("h3", {}, "Before anything is connected or played"),
        el("ul", {}, (r.cautions ?? []).map((c) => el("li", {}, c)))),
      el("p", { class: "row" }, act("I have read this", "cautions-read", "main")), foot()];
    case "level":
      return [trouble, fit(r.level_ohm, "The level is set with the highest load, which gives the highest level."),
        r.level ? levelReport(r.level) : null,
        el("p", { class: "row" }, act(r.level ? "Play and listen again" : "Play and listen", "check-level", r.level?.acceptable ? "" : "main"),
          r.level ? act(r.level.acceptable ? "Take it at this level" : "Go on all the same", "level-accepted", r.level.acceptable ? "main" : "") : null),
        el("p", { class: "hint" }, "The sound will be loud. Begin with the volume down."), foot()];
    case "fit":
      return [trouble, progress(r, state), fit(r.next_ohm, "Phantom power off and discharged first. Touch neither gain nor microphone nor loudspeaker."),
        el("p", { class: "row" }, act("It is fitted: play and record", "record", "main")), foot()];
    case "sounding":
      return [trouble, r.trial ? null : progress(r, state), el("p", { class: "prompt" }, r.trial ? "It plays and listens …" : "It plays and records …"), level.node,
        el("p", { class: "row" }, act("Break off", "cancel", "danger")), foot()];
    case "judge":
      return [trouble, progress(r, state), el("p", { class: "prompt" }, r.take?.usable ? "Keep it, or repeat it?" : "This take is spoilt."),
        el("p", { class: "quiet-words" }, "What was found in it stands below, with the choice."), foot()];
    default:
      return [trouble, progress(r, state), el("p", { class: "prompt" }, "All takes are recorded."),
        el("p", { class: "quiet-words" }, "The curve below holds them all. For further loads put the recorder away and set it up again."), foot()];
  }
}

const fit = (ohm, why) => el("div", {}, el("p", { class: "prompt" }, ohm === "open" ? "Fit no resistor: leave pins 2 and 3 open" : ["Fit ", el("strong", { class: "load-ink" }, ohms(ohm)), " across pins 2 and 3"]),
  el("p", { class: "hint" }, why));

/** Which of the takes it is: done, under way, and to come. */
function progress(r, state) {
  const left = r.remaining_ohm ?? [];
  const total = state.takes.length + left.length;
  if (!total) return null;
  return el("div", { class: "steps" }, el("progress", { max: total, value: state.takes.length, "aria-label": "Takes kept" }),
    el("span", {}, left.length ? `Take ${state.takes.length + 1} of ${total}` : `${total} of ${total} kept`,
      left.length > 1 ? `, then ${left.slice(1).map((o) => ohms(o)).join(", ")}` : ""));
}

const levelWords = (l) => (l.acceptable ? "The level is good." : "The level is not good yet.");

/** Peak, noise, what to turn, and what to expect before the first take. */
function levelReport(l) {
  const turn = Math.abs(l.gain_change_db ?? 0) < 0.5 ? "leave the gain as it is"
    : `turn the gain ${l.gain_change_db > 0 ? "up" : "down"} by ${l.clipped ? "at least " : ""}${decibels(Math.abs(l.gain_change_db), 0)}`;
  return el("div", { class: "level-report" },
    el("p", {}, el("span", { class: `word ${l.acceptable ? "good" : "bad"}` }, levelWords(l)), " ",
      `Peak ${l.clipped ? "at least " : ""}${decibels(l.peak_dbfs, 1, "dBFS")}; ${turn}.`),
    el("p", {}, `Noise ${decibels(l.noise_dbfs, 0, "dBFS")}, signal ${decibels(l.signal_to_noise_db, 0)} above it in the median band.`),
    l.predicted_expected_ohm !== null ? el("p", {}, "To expect: ", el("strong", {}, `± ${percent(l.predicted_median_u95_percent)}`), ` in the median twelfth octave`,
      l.predicted_from_hz === null ? "; nowhere below 10 %" : `, below 10 % from ${hertz(l.predicted_from_hz)} to ${hertz(l.predicted_to_hz)}`,
      `, for about ${significant(l.predicted_expected_ohm, 3)} Ω.`) : null,
    l.findings?.length ? findings(l.findings) : null);
}
