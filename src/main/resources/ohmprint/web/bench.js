// What the parts of the bench share: the state of the session, its curve, what the cursor is at, and who wants to know.
import { at, get, post, put, remove } from "./api.js";
import { listen } from "./events.js";
import { announce, notice } from "./dom.js";

/**
 * Opens a session. The result holds `name`, `ref`, `state` (as the server tells it), `curve` (or null), `hz` (cursor) and
 * `selected` (file of the take in the drawing); `watch`, `watchCurve`, `watchLevel`, `watchHz` and `watchLink` call at once and on each
 * change; `leaving(f)` is called at the end; requests that answer with the state take it over.
 */
export async function openBench(address) {
  const name = address.name;
  const path = (...more) => at("sessions", name, ...more);
  const ends = [];
  const topics = { state: [], curve: [], level: [], hz: [], link: [], measuring: [], notes: [] };
  const tell = (topic, value) => topics[topic].forEach((f) => f(value));
  const follow = (topic, value) => (f) => {
    topics[topic].push(f);
    const now = value();
    if (now !== undefined) f(now);
  };

  const bench = {
    name,
    address,
    ref: `session:${name}`,
    path,
    state: await get(path()),
    curve: null,
    hz: Number(address.query.get("hz")) || 1000,
    selected: address.query.get("take"),
    link: "",
    watch: follow("state", () => bench.state),
    watchCurve: follow("curve", () => bench.curve),
    watchLevel: follow("level", () => undefined),
    watchMeasuring: follow("measuring", () => undefined),
    watchHz: follow("hz", () => bench.hz),
    watchLink: follow("link", () => bench.link),
    leaving: (f) => ends.push(f),
    take: (state) => takeOver(state),
    curveCame: (curve) => curveCame(curve),
    /** True while a recorded take waits for a verdict, or sound runs. */
    waits: () => ["judge", "sounding"].includes(bench.state.recorder?.step),
    async send(method, parts, body) {
      const work = { POST: post, PUT: put, DELETE: remove }[method];
      const state = await (method === "DELETE" ? work(path(...parts)) : work(path(...parts), body));
      takeOver(state);
      return state;
    },
    select(file) {
      bench.selected = file;
      address.replace({ take: file });
      tell("state", bench.state);
    },
    at(hz) {
      bench.hz = hz;
      tell("hz", hz);
      clearTimeout(bench.noting);
      bench.noting = setTimeout(() => address.replace({ hz: Number(hz.toPrecision(4)) }), 300);
    },
    close() {
      clearTimeout(bench.noting);
      ends.forEach((f) => f());
    },
  };

  function takeOver(state) {
    if (!state?.name) return;
    // Answers and events may overtake each other; what is older than what is shown is of no interest.
    if (typeof state.revision === "number" && state.revision < bench.state.revision) return;
    bench.state = state;
    tell("state", state);
  }

  function curveCame(curve) {
    bench.curve = curve;
    // The curve brings its own word on whether it still belongs to the session: the state may be older, or newer.
    if (curve && bench.state.name === name) bench.state.curve_outdated = curve.outdated;
    tell("curve", curve);
  }

  if (bench.state.has_curve) {
    get(path("curve")).then(curveCame, (error) => notice(error.message, "bad"));
  }
  ends.push(listen(path("events"), {
    session: takeOver,
    curve: curveCame,
    level: (level) => tell("level", level),
    measuring: (doing) => tell("measuring", doing),
    note: (note) => notice(note.message, "note"),
  }, (link) => {
    const words = { here: "", away: "The program does not answer. This window looks for it each second and goes on by itself; what was recorded is on the disk.",
      refused: "The program was started anew and its links are new. Open the link that it printed last; what was recorded is on the disk." }[link];
    if (words !== bench.link && (words || bench.link)) announce(words || "The program answers again.");
    // A program that was started anew counts from the beginning.
    if (link === "here" && bench.link) bench.state.revision = -1;
    bench.link = words;
    tell("link", words);
  }));
  return bench;
}
