// Hearing what a load does: a piece of a take as it would sound into the chosen load.
import { query } from "./api.js";
import { el, fill } from "./dom.js";
import { field, tick } from "./fields.js";
import { ohms } from "./format.js";

/** The player; `load({load_ohm, capacitance_pf})` says for which load. Nothing is computed before it is wanted. */
export function audition(bench) {
  const choice = field({ label: "Hear a take into this load", choices: [["", "no take"]], value: "" });
  const whole = tick("the loss of level too, not only the change of sound");
  const player = el("audio", { controls: true, preload: "none", hidden: true });
  const words = el("p", { class: "hint", role: "status" });
  const ready = el("button", { type: "button" }, "Make it ready to play");
  let now = { load_ohm: null, capacitance_pf: 0 };
  let made = "";

  const source = () => bench.path("audition") + query({ take: choice.input.value, load_ohm: now.load_ohm, capacitance_pf: now.capacitance_pf || null,
    whole: whole.input.checked || null });
  const tell = () => {
    ready.disabled = !choice.input.value || now.load_ohm === null;
    const stale = made !== source();
    fill(words, made && stale ? "The load has changed since; make it ready again to hear it." : "");
    ready.hidden = Boolean(made) && !stale;
  };
  ready.addEventListener("click", () => {
    made = source();
    player.hidden = false;
    player.src = made;
    player.load();
    fill(words, `${choice.input.value} into ${ohms(now.load_ohm)}`);
    ready.hidden = true;
    player.focus();
    player.play().catch(() => {});
  });
  player.addEventListener("error", () => {
    if (!player.getAttribute("src")) return;
    made = "";
    player.hidden = true;
    ready.hidden = false;
    // The player tells no reason; the answer itself does.
    fetch(source()).then((a) => (a.ok ? null : a.json())).then((told) => fill(words, el("span", { class: "error" }, told?.error ?? "This take cannot be played.")),
      () => fill(words, el("span", { class: "error" }, "This take cannot be played.")));
  });
  choice.input.addEventListener("change", tell);
  whole.input.addEventListener("change", tell);
  bench.watch((state) => {
    const before = choice.input.value;
    if (choice.input.options.length === state.takes.length && before) return;
    fill(choice.input, state.takes.map((t) => el("option", { value: t.file }, `${t.file}, recorded with ${ohms(t.load_ohm)}`)));
    choice.input.value = state.takes.some((t) => t.file === before) ? before : state.takes[0]?.file ?? "";
    tell();
  });
  bench.leaving(() => player.pause());
  return {
    node: el("div", { class: "audition" }, el("div", { class: "row" }, choice.node, ready, player), whole.node, words),
    load(next) {
      now = next;
      tell();
    },
  };
}
