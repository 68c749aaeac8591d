// What might this be? The library ranked by likeness with one curve.
import { get, query } from "./api.js";
import { el, fill, table } from "./dom.js";
import { curveField, hrefOf, offered } from "./curves.js";
import { verdict, whatItIs } from "./verdict-view.js";
import { percent } from "./format.js";

const LIMIT = 20;

function ranking(told, ref) {
  const rows = told.likes.map((l) => [el("a", { href: `/library/${l.id}` }, l.label), whatItIs(l), l.words,
    percent(l.difference_percent), String(l.bands ?? ""), verdict(l.verdict),
    el("a", { href: "/compare" + query({ curves: `${ref},library:${l.id}` }), "aria-label": `Compare with ${l.label}` }, "Compare")]);
  return [
    el("p", { class: "finding" }, told.caution),
    told.parallel_with_input ? el("p", { class: "finding" }, "The curve asked about is in parallel with its input, and so too low: state the input first.") : null,
    rows.length ? el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Table of likeness" },
      table("Likest first", ["Microphone", "Kind", "In words", "Difference", "Bands", "Verdict", "Look"], rows, { class: "cards" }))
      : el("p", {}, "Nothing in the library covers enough of the same range."),
    rows.length ? el("p", { class: "quiet-words" }, "Difference: root mean square of |Z| over the third octaves that both cover.") : null,
  ];
}

/** Shows the ranking for the curve of the address, or asks for one. */
export async function show(stage, address) {
  const ref = address.query.get("curve") ?? "";
  const choose = curveField("Curve", await offered(), ref, "choose a curve");
  const result = el("section", { class: "sheet", "aria-label": "Ranking", "aria-live": "polite", hidden: true });
  const search = async () => {
    const asked = choose.input.value;
    address.replace({ curve: asked });
    result.hidden = !asked;
    if (!asked) return;
    fill(result, el("p", { class: "waiting" }, "Comparing with everything in the library …"));
    try {
      const told = await get("/api/like" + query({ curve: asked, limit: LIMIT }));
      fill(result, el("h2", {}, "Like ", el("a", { href: hrefOf(asked) }, told.label ?? choose.input.selectedOptions[0].textContent)), ranking(told, asked));
    } catch (error) {
      fill(result, el("p", { class: "finding bad", role: "alert" }, error.message));
    }
  };
  choose.input.addEventListener("change", search);
  stage.append(el("h1", {}, "What might this be?"), el("section", { class: "sheet", "aria-label": "Which curve" }, choose.node), result);
  await search();
}
