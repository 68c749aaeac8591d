// The bench with one session: the drawing, the takes beside it, the curve below, then the load control.
import { openBench } from "./bench.js";
import { divider } from "./divider.js";
import { takes } from "./takes.js";
import { recorder } from "./recorder.js";
import { curvePanel } from "./curve.js";
import { loadControl } from "./load.js";
import { el, fill } from "./dom.js";
import { ohms, count } from "./format.js";

/** Shows the session that the address names. */
export async function show(stage, address) {
  const bench = await openBench(address);
  const title = el("h1", {}, bench.state.microphone?.label ?? bench.name);
  const sub = el("p", { class: "quiet-words bench-sub" });
  const problem = el("div", { "aria-live": "polite" });
  const link = el("p", { class: "link-state", role: "status" });
  const kept = el("p", { class: "row bench-links" });
  stage.classList.add("bench");
  stage.append(
    el("div", { class: "bench-head" }, el("div", {}, title, sub), kept, link, problem),
    el("div", { class: "bench-top" }, divider(bench), el("div", { class: "bench-side" }, recorder(bench), takes(bench))),
    curvePanel(bench),
    loadControl(bench));

  bench.watch((state) => {
    const label = state.microphone?.label ?? bench.name;
    if (title.textContent !== label) {
      title.textContent = label;
      document.title = `${label} · ohmprint`;
    }
    fill(sub, "Session ", el("code", {}, state.name), ` · ${count(state.takes.length, "take")}`,
      state.takes.length ? ` · ${[...new Set(state.takes.map((t) => ohms(t.load_ohm)))].join(", ")}` : "");
    fill(problem, state.problem ? el("p", { class: "finding bad" }, state.problem) : null);
    fill(kept, ...(state.has_curve ? links(bench.ref) : []));
  });
  bench.watchLink((words) => fill(link, words));

  const guard = (event) => {
    if (!bench.waits()) return;
    event.preventDefault();
    event.returnValue = true;
  };
  window.addEventListener("beforeunload", guard);
  bench.leaving(() => window.removeEventListener("beforeunload", guard));
  return bench.close;
}

/** The ways on from a session that has a curve. */
function links(ref) {
  const to = (path, words) => el("a", { class: "button", href: `${path}?curve=${encodeURIComponent(ref)}` }, words);
  return [
    el("a", { class: "button", href: `/compare?curves=${encodeURIComponent(ref)}` }, "Compare"),
    to("/like", "Which are like it?"),
    to("/check", "Check"),
    to("/report", "Report"),
    el("a", { class: "button", href: `/library?add=${encodeURIComponent(ref)}` }, "Keep in the library"),
  ];
}
