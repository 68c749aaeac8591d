// One take, one take that waits for a verdict, or one file of which nobody has said yet what it is.
import { get } from "./api.js";
import { findings } from "./verdict-view.js";
import { awaited, inWords, spectrum } from "./spectrum.js";
import { ask, button, el, fill } from "./dom.js";
import { field, readNumber, readOhms } from "./fields.js";
import { decibels, fixed, ohms, seconds, significant, timeOfDay } from "./format.js";

/** Names that files of what was played usually have. */
const PLAYED = /stimulus|sweep|noise|played/i;

/** A kept take. */
export function takeCard(bench, take) {
  const head = el("h3", {});
  const told = el("p", { class: "take-facts" });
  const pick = el("button", { type: "button", onclick: () => bench.select(take.file) });
  const out = button("Take out", async () => {
    if (await ask(`Take ${take.file} out of the session?`, "The file stays in the folder and can be put in again.", "Take it out")) {
      await bench.send("DELETE", ["takes", take.file]);
    }
  }, { class: "quiet" });
  const seen = inspected(bench, take.file);
  const node = el("li", { class: "take" }, head, told, seen, el("p", { class: "row" }, pick, out));
  return {
    node,
    show(state) {
      const now = state.takes.find((t) => t.file === take.file) ?? take;
      fill(head, el("span", { class: "load-ink" }, ohms(now.load_ohm)),
        now.load_ohm === "open" ? "" : now.load_uncertainty_ohm ? ` measured, u = ${significant(now.load_uncertainty_ohm, 2)} Ω` : ` ± ${significant(now.load_tolerance_percent, 2)} %`);
      fill(told, el("code", {}, now.file), [timeOfDay(now.time), channels(now), now.note].filter(Boolean).map((w) => ` · ${w}`));
      const chosen = bench.selected === take.file;
      pick.setAttribute("aria-pressed", String(chosen));
      fill(pick, "Show in the drawing", el("span", { class: "unseen" }, `: ${take.file}`));
      node.classList.toggle("chosen", chosen);
    },
  };
}

const channels = (t) => (t.reference_channel ? `channel ${t.channel}, reference ${t.reference_channel}` : t.channel > 1 ? `channel ${t.channel}` : "");

/** Spectrum of a file, with its level and findings unless they stand there already; asked for once. */
function inspected(bench, file, whole = true) {
  const node = el("div", { class: "inspected" }, el("div", { class: "seen" }, el("p", { class: "take-facts" }, "Looking at it …"), awaited()));
  get(bench.path("takes", file, "inspection")).then((seen) => {
    const facts = whole && el("p", { class: "take-facts" },
      el("span", {}, `peak ${decibels(seen.peak_dbfs, 1, "dBFS")}`), el("span", {}, `noise ${decibels(seen.noise_dbfs, 0, "dBFS")}`), el("span", {}, seconds(seen.seconds)),
      seen.spectrum ? el("span", {}, inWords(seen.spectrum)) : null);
    fill(node, el("div", { class: "seen" }, facts, seen.spectrum ? spectrum(seen.spectrum, file) : null), whole && seen.findings?.length ? findings(seen.findings) : null);
  }, (error) => fill(node, el("p", { class: "error" }, error.message)));
  return node;
}

/** The take that was just recorded: repeat or keep. The sound one of the two is offered first. */
export function pendingCard(bench, take) {
  const act = (word, what, main) => button(word, () => bench.send("POST", ["recorder"], { do: what }), { class: main ? "main" : "" });
  const choices = take.usable
    ? [act("Keep", "keep", true), act("Repeat", "repeat", false)]
    : [act("Repeat", "repeat", true), act("Keep all the same", "keep", false)];
  const node = el("div", { class: "take waits", role: "group", "aria-label": "A take waits for a verdict" },
    el("h3", {}, el("span", { class: "load-ink" }, ohms(take.load_ohm)), " just recorded ",
      el("span", { class: `word ${take.usable ? "good" : "bad"}` }, take.usable ? "can be used" : "spoilt")),
    el("p", { class: "take-facts" }, `peak ${decibels(take.peak_dbfs, 1, "dBFS")}, noise ${decibels(take.noise_dbfs, 0, "dBFS")}`,
      take.step_db === null ? "" : `, ${decibels(take.step_db, 2, "dB", true)} against ${take.compared_to}`),
    inspected(bench, take.file, false), findings(take.findings, "Nothing was found against it."), el("p", { class: "row" }, choices));
  return { node };
}

/** A file in the folder that is no take yet: which load is it? */
export function unlistedCard(bench, file) {
  const load = field({ label: "Which load is this?", unit: "Ω", hint: "ohms, or “open” for none" });
  const tolerance = field({ label: "Tolerance", unit: "%", value: "1", inputmode: "decimal" });
  const several = file.channels > 1;
  const numbers = Array.from({ length: file.channels ?? 1 }, (_, i) => [String(i + 1), `channel ${i + 1}`]);
  const channel = several ? field({ label: "Microphone on", choices: numbers, value: "1" }) : null;
  const reference = several ? field({ label: "Reference on", choices: [["", "none"], ...numbers], value: "" }) : null;
  const kind = field({ label: "or it is what was played:", choices: [["sweep", "a sweep"], ["noise", "noise"]], value: "sweep" });

  const put = async () => {
    let ohm;
    let percent;
    try {
      load.error(null);
      ohm = readOhms(load.input.value, ["open"]);
    } catch (error) {
      load.error(error.message);
      return load.input.focus();
    }
    try {
      tolerance.error(null);
      percent = readNumber(tolerance.input.value, "Tolerance", "percent", { min: 0, max: 50 });
    } catch (error) {
      tolerance.error(error.message);
      return tolerance.input.focus();
    }
    await bench.send("POST", ["takes"], {
      file: file.file, load_ohm: ohm, load_tolerance_percent: percent, channel: several ? Number(channel.input.value) : 1,
      reference_channel: reference?.input.value ? Number(reference.input.value) : null,
    });
    document.getElementById("takes-title")?.scrollIntoView({ block: "nearest" });
  };
  const form = el("form", { class: "which", onsubmit: (e) => e.preventDefault() }, load.node, tolerance.node, channel?.node, reference?.node,
    el("p", { class: "row" }, button("Put it in", put, { class: "main", type: "submit" })),
    el("details", { open: PLAYED.test(file.file) }, el("summary", {}, "It is no take"), el("div", { class: "row" }, kind.node,
      button("Use it as the sound that was played", () =>
        bench.send("PUT", ["stimulus"], { kind: kind.input.value, file: file.file })))));
  const node = el("div", { class: "take asks", role: "group", "aria-label": `${file.file}, no take yet` },
    el("h3", {}, el("code", {}, file.file)),
    el("p", { class: "take-facts" }, `${seconds(file.seconds)}, ${fixed(file.sample_rate / 1000, file.sample_rate % 1000 ? 1 : 0)} kHz, `
      + `${file.channels === 1 ? "one channel" : `${file.channels} channels`}`),
    file.unfinished || file.rejected ? el("p", { class: "finding" }, "This take was rejected, or its recording was stopped.") : null, form);
  return { node };
}
