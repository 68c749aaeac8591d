// Setting the recorder up: devices and channels, the sound, the loads to come.
import { button, el, fill } from "./dom.js";
import { field, readNumber, readOhms, tick } from "./fields.js";

/** Reads a list of loads as people write it: 220, 680, open. */
export function readLoads(text) {
  const all = text.split(/[,;\s]+/).filter(Boolean).map((one) => readOhms(one, ["open"]));
  if (!all.length) throw new Error("Write the loads in the order of the takes, such as 220, 680, open.");
  return all;
}

/** The form; `away()` is called when it is put away without recording. */
export function deviceForm(bench, devices, away) {
  const ins = devices.filter((d) => d.inputs?.length);
  const outs = devices.filter((d) => d.outputs?.length);
  const begun = bench.state.takes.length > 0 || (bench.state.planned_ohm ?? []).length > 0;
  const input = field({ label: "Record from", choices: names(ins), value: "" });
  const output = field({ label: "Play to", choices: names(outs), value: "" });
  const rate = field({ label: "Sample rate", choices: [["", "the device's own"]], value: "" });
  const channel = field({ label: "Microphone on", choices: [], value: "1" });
  const reference = field({ label: "Reference on", choices: [], value: "", hint: "a monitor microphone or loopback that does not feel the load" });
  const truth = el("p", { class: "hint" });
  const loads = field({ label: begun ? "Loads to add" : "Loads in the order of the takes", unit: "Ω", hint: begun ? "empty: go on with what was planned" : "such as 220, 680, open",
    value: "" });
  const tolerance = field({ label: "Their tolerance", unit: "%", value: "1", inputmode: "decimal" });
  const repeat = tick("Record the first load once more at the end: it shows drift", true);
  const sound = soundFields();
  const trouble = el("p", { class: "error", role: "alert" });

  const chosen = () => ins.find((d) => d.name === input.input.value) ?? ins[0];
  const refresh = () => {
    const formats = chosen()?.inputs ?? [];
    const usable = formats.filter((f) => f.usable);
    const most = Math.max(1, ...(usable.length ? usable : formats).map((f) => f.channels ?? 1));
    const rates = [...new Set(usable.map((f) => f.sample_rate_hz))];
    options(rate.input, [["", "the device's own"], ...rates.map((r) => [String(r), `${r / 1000} kHz`])]);
    const numbers = Array.from({ length: most }, (_, i) => [String(i + 1), `channel ${i + 1}`]);
    options(channel.input, numbers);
    options(reference.input, [["", "none"], ...numbers]);
    fill(truth, formats.length ? formats.map((f) => el("span", { class: "format" }, `${f.sample_rate_hz / 1000} kHz: ${f.words}`)) : "");
  };
  input.input.addEventListener("change", refresh);
  refresh();

  const open = async () => {
    fill(trouble, "");
    let plan = null;
    try {
      loads.error(null);
      if (!begun || loads.input.value.trim()) plan = readLoads(loads.input.value);
    } catch (error) {
      loads.error(error.message);
      return loads.input.focus();
    }
    try {
      await bench.send("POST", ["recorder"], {
        do: "open",
        bench: { input_device: input.input.value || null, output_device: output.input.value || null,
          sample_rate: rate.input.value ? Number(rate.input.value) : null, channels: null, channel: Number(channel.input.value || 1),
          reference_channel: reference.input.value ? Number(reference.input.value) : null },
        sound: bench.state.stimulus ? null : sound.read(),
        loads: plan && { ohm: plan, tolerance_percent: readNumber(tolerance.input.value, "Tolerance", "percent", { min: 0, max: 50 }), repeat_first: repeat.input.checked },
      });
    } catch (error) {
      fill(trouble, error.message);
    }
    return undefined;
  };
  return el("form", { class: "device-form", onsubmit: (e) => e.preventDefault() },
    devices.length ? null : el("p", { class: "finding" }, "No sound device was found. Connect one and try again, or record with any recorder and bring the files."),
    el("div", { class: "columns" }, loads.node, tolerance.node), repeat.node,
    el("div", { class: "columns" }, input.node, channel.node, output.node, reference.node),
    el("details", {}, el("summary", {}, "Sound and sample rate"), el("div", { class: "columns" }, rate.node, bench.state.stimulus
      ? el("p", { class: "hint" }, "The session has its sound: ", el("code", {}, bench.state.stimulus.file ?? bench.state.stimulus.kind)) : sound.nodes), truth),
    trouble,
    el("p", { class: "row" }, button("Set it up", open, { class: "main", type: "submit" }),
      el("button", { type: "button", onclick: away }, "Not now")));
}

const names = (devices) => [["", "the system's usual device"], ...devices.map((d) => [d.name, d.description && d.description !== d.name ? `${d.name} – ${d.description}` : d.name])];

/** Puts options into a select and keeps what was chosen when it is still there. */
function options(select, all) {
  const before = select.value;
  fill(select, all.map(([value, words]) => el("option", { value }, words)));
  select.value = all.some(([v]) => v === before) ? before : all[0]?.[0] ?? "";
}

function soundFields() {
  const kind = field({ label: "Sound", choices: [["sweep", "sweep"], ["noise", "noise"]], value: "sweep" });
  const long = field({ label: "Length", unit: "s", value: "8", inputmode: "decimal" });
  const from = field({ label: "From", unit: "Hz", value: "20", inputmode: "decimal" });
  const to = field({ label: "To", unit: "Hz", value: "20000", inputmode: "decimal" });
  const peak = field({ label: "Peak", unit: "dBFS", value: "-12", inputmode: "text" });
  return {
    nodes: [kind, long, from, to, peak].map((f) => f.node),
    read: () => ({
      kind: kind.input.value,
      seconds: readNumber(long.input.value, "Length", "seconds", { min: 0.5, max: 600 }),
      from_hz: readNumber(from.input.value, "From", "hertz", { min: 1, max: 96_000 }),
      to_hz: readNumber(to.input.value, "To", "hertz", { min: 1, max: 96_000 }),
      peak_dbfs: readNumber(peak.input.value.replace("\u2212", "-"), "Peak", "dBFS", { min: -80, max: 0 }),
    }),
  };
}
