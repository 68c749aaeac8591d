// Other curves laid over this one: chosen from sessions and library, named in the address.
import { curve as fetchCurve, hrefOf, offered } from "./curves.js";
import { button, el, fill, notice } from "./dom.js";
import { field } from "./fields.js";

/** The choice and the list of what is laid over; `changed(curves)` hears each change. */
export function overlays(bench, changed) {
  const laid = new Map();
  const list = el("ul", { class: "laid", "aria-label": "Curves laid over" });
  const choice = field({ label: "Lay another curve over it", choices: [["", "choose a curve"]], value: "" });

  const told = () => {
    bench.address.replace({ with: [...laid.keys()].join(",") });
    fill(list, [...laid.values()].map((c) => el("li", {}, el("a", { href: hrefOf(c.ref) }, c.label), " ",
      el("button", { type: "button", class: "quiet", "aria-label": `Take ${c.label} off`, onclick: () => {
        laid.delete(c.ref);
        told();
        choice.input.focus();
      } }, "take off"))),
    laid.size > 1 ? el("li", {}, button("Take all off", () => {
      laid.clear();
      told();
      choice.input.focus();
    }, { class: "quiet" })) : null);
    changed([...laid.values()]);
  };
  const lay = async (refs) => {
    const fresh = refs.filter((ref) => ref && !laid.has(ref) && ref !== bench.ref);
    const answers = await Promise.allSettled(fresh.map((ref) => fetchCurve(ref)));
    answers.forEach((a, i) => {
      if (a.status === "fulfilled") laid.set(fresh[i], { ...a.value, ref: fresh[i] });
      else notice(a.reason.message, "bad");
    });
    if (fresh.length) told();
  };
  choice.input.addEventListener("change", () => {
    const ref = choice.input.value;
    choice.input.value = "";
    lay([ref]);
  });
  // What there is to choose from changes while the page is open: asked for when somebody is about to choose.
  const refresh = async () => {
    const all = (await offered()).filter(([ref]) => ref !== bench.ref);
    if (choice.input.options.length === all.length + 1) return;
    fill(choice.input, el("option", { value: "" }, all.length ? "choose a curve" : "no other curve yet"),
      all.map(([ref, words]) => el("option", { value: ref }, words)));
  };
  choice.input.addEventListener("focus", () => refresh().catch((e) => choice.error(e.message)));
  refresh().catch(() => {});
  const wanted = (bench.address.query.get("with") ?? "").split(",").filter(Boolean);
  if (wanted.length) lay(wanted);
  return { node: el("div", { class: "overlays" }, choice.node, list) };
}
