// One measurement of the library: its curve, how it was measured, what it is linked with, what can be done with it.
import { at, get, query } from "./api.js";
import { button, el } from "./dom.js";
import { graph, together } from "./graph.js";
import { magnitudeLine, phaseLine } from "./graph-lines.js";
import { caring } from "./entry-actions.js";
import { download } from "./download.js";
import { consistency, facts, findings, kind, verdict } from "./verdict-view.js";
import { bandOhms, dateTime, plusMinus, transducer } from "./format.js";

const FILES = [["csv", "CSV, a row per band"], ["json", "JSON, everything"], ["s1p", "Touchstone"], ["svg", "picture, SVG"], ["png", "picture, PNG"]];

/** Phase of a band in words. */
const phaseWords = (b) => (i) => (b.phase_deg[i] === null ? "not determined" : plusMinus(b.phase_deg[i], b.phase_u95_deg[i], "°"));

/** What a link says of this measurement, with the way to the other. */
function linkWords(link, id) {
  const older = link.from === id;
  const other = older ? link.to : link.from;
  const what = link.kind === "superseded" ? (older ? "superseded by " : "takes the place of ")
    : (older ? "before a repair; after it " : "after a repair; before it ");
  const both = link.kind === "repaired"
    ? [" (", el("a", { href: "/compare" + query({ curves: `library:${link.from},library:${link.to}` }) }, "compare before and after"), ")"] : null;
  return el("li", {}, what, el("a", { href: `/library/${other}` }, other), both, link.words ? `: ${link.words}` : "",
    el("span", { class: "quiet-words" }, ` (${link.by}, ${dateTime(link.at)})`));
}

/** Magnitude and phase of one curve, sharing a cursor. Returns what ends them. */
function plots(place, curve, address) {
  const hz = Number(address.query.get("hz")) || 1000;
  const both = [];
  const moved = together(both, (f) => address.replace({ hz: f.toFixed(1) }));
  const b = curve.bands;
  both.push(graph(place, { title: "Magnitude of the source impedance, in Ω over Hz", log: true, height: 18, hz, moved,
    lines: [magnitudeLine(curve, { words: (i) => bandOhms(b, i) })] }));
  if (b.phase_deg.some((v) => v !== null)) {
    both.push(graph(place, { title: "Phase, in degrees over Hz", least: 20, height: 12, hz, moved,
      lines: [phaseLine(curve, { colour: 1, dashed: 1, words: phaseWords(b) })] }));
  }
  return () => both.forEach((one) => one.dispose());
}

function provenance(entry, curve) {
  return facts([["Measured", `${dateTime(entry.measured_at)} by ${entry.operator}`], ["Added", dateTime(entry.added_at)],
    ["Kind", kind(entry)], ["Transducer", transducer(entry.transducer)], ["Route", [entry.route, curve.route_reason ? `: ${curve.route_reason}` : ""]],
    ["Loads", entry.loads ?? curve.loads?.join(", ")], ["Recording input", entry.input ?? curve.input],
    ["Note", entry.note], ["SHA-256", entry.sha256 ? el("code", {}, entry.sha256) : null]]);
}

/** Shows one measurement. */
export async function show(stage, address) {
  const { entry, curve, links } = await get(at("library", address.name));
  const ref = `library:${entry.id}`;
  const view = el("section", { class: "sheet", "aria-label": "Curve" });
  const way = (href, words) => el("a", { class: "button", href }, words);
  const files = FILES.filter(([k]) => k !== "s1p" || curve.bands.phase_deg.some((v) => v !== null)).map(([k, words]) =>
    el("li", {}, button(words, () => download(at("curves", ref, "file") + query({ kind: k }), `${entry.id}.${k}`), { class: "quiet" })));
  stage.append(...[
    el("header", {}, el("h1", {}, entry.label), el("p", { class: "row" }, verdict(entry.verdict), el("code", {}, entry.id),
      entry.superseded_by ? el("span", {}, "superseded by ", el("a", { href: `/library/${entry.superseded_by}` }, entry.superseded_by)) : null)),
    curve.parallel_with_input ? el("p", { class: "finding" }, "The recording input was not stated: this is the microphone in parallel with it, not the microphone alone.") : null,
    el("p", { class: "row" }, way("/report" + query({ curve: ref }), "Report"), way("/check" + query({ curve: ref }), "Check against limits"),
      way("/compare" + query({ curves: ref }), "Compare"), way("/like" + query({ curve: ref }), "What is like it?"),
      entry.model ? way("/spread" + query({ model: entry.model, maker: entry.maker }), `Spread of ${entry.model}`) : null,
      way("/plan" + query({ curve: ref }), "Plan loads for it")),
    view,
    el("div", { class: "halves" },
      el("section", { class: "sheet", "aria-labelledby": "how-title" }, el("h2", { id: "how-title" }, "How it was measured"), provenance(entry, curve)),
      el("section", { class: "sheet", "aria-labelledby": "found-title" }, el("h2", { id: "found-title" }, "Findings"), findings(curve.findings), consistency(curve),
        curve.advice?.length ? [el("h3", {}, "Advice"), el("ul", {}, curve.advice.map((a) => el("li", {}, a)))] : null,
        el("h3", {}, "Links"), links.length ? el("ul", {}, links.map((l) => linkWords(l, entry.id))) : el("p", { class: "quiet-words" }, "It is linked with no other measurement."),
        el("h3", {}, "Files"), el("ul", { class: "plain-list row" }, files))),
    await caring(entry, address)].filter(Boolean));
  return plots(view, curve, address);
}
