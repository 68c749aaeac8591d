// The router: one table of views, the History API, and what every view shares on leaving and entering.
import { announce, el, fill, notice } from "./dom.js";
import { guardsDrops } from "./files.js";

/** Each view: what its path looks like, the module that shows it, and its name among the rooms when it has a place there. */
const VIEWS = [
  { path: /^\/$/, module: "./workspace.js", room: "Workspace", href: "/" },
  { path: /^\/session\/([^/]+)$/, module: "./session.js", within: "/" },
  { path: /^\/library$/, module: "./library.js", room: "Library", href: "/library" },
  { path: /^\/library\/([^/]+)$/, module: "./entry.js", within: "/library" },
  { path: /^\/compare$/, module: "./compare.js", within: "/library" },
  { path: /^\/spread$/, module: "./spread.js", within: "/library" },
  { path: /^\/like$/, module: "./similar.js", within: "/library" },
  { path: /^\/check$/, module: "./check.js", within: "/library" },
  { path: /^\/report$/, module: "./report.js", within: "/library" },
  { path: /^\/plan$/, module: "./plan.js", room: "Plan loads", href: "/plan" },
];

const main = document.getElementById("main");
let dispose = () => {};
let shown = 0;

/**
 * What a view gets to know of its address: `name` (the part of the path that names a session or an entry), `query`,
 * `replace({key: value|null})` to note a state in the address without leaving, and `go(href)`.
 */
function addressOf(url, name) {
  return {
    path: url.pathname,
    name,
    query: url.searchParams,
    go,
    replace(changes) {
      const next = new URL(location.href);
      for (const [key, value] of Object.entries(changes)) {
        if (value === null || value === undefined || value === "") next.searchParams.delete(key);
        else next.searchParams.set(key, value);
      }
      history.replaceState(history.state, "", next);
    },
  };
}

/** Goes to another view of this page. */
export function go(href) {
  history.pushState(null, "", href);
  return enter(true);
}

async function enter(moved) {
  const turn = ++shown;
  const url = new URL(location.href);
  const view = VIEWS.find((v) => v.path.test(url.pathname));
  await dispose();
  dispose = () => {};
  markRoom(view);
  const stage = el("div", { class: "view" });
  fill(main, stage);
  try {
    if (!view) {
      fill(main, el("h1", {}, "Page not found"), el("p", { role: "alert" }, `There is no page at ${url.pathname}. Check the address.`),
        el("p", {}, el("a", { class: "button main", href: "/" }, "Go to the workspace")));
      return void arrive(moved);
    }
    const name = view.path.exec(url.pathname)[1];
    const module = await import(view.module);
    if (turn !== shown) return;
    const leave = await module.show(stage, addressOf(url, name === undefined ? "" : decodeURIComponent(name)));
    if (turn !== shown) return leave?.();
    dispose = leave ?? (() => {});
  } catch (error) {
    if (turn !== shown) return;
    fill(main, el("h1", {}, "This view cannot be shown"), el("p", { role: "alert" }, error.message),
      el("p", {}, el("a", { href: "/" }, "To the workspace")));
  }
  arrive(moved);
}

/** The heading names the window and gets the focus, so that a screen reader begins there. */
function arrive(moved) {
  const heading = main.querySelector("h1");
  document.title = heading ? `${heading.textContent} · ohmprint` : "ohmprint";
  if (!moved) return;
  window.scrollTo(0, 0);
  if (heading) {
    heading.tabIndex = -1;
    heading.focus({ preventScroll: true });
  }
  announce(document.title);
}

function markRoom(view) {
  const here = view?.href ?? view?.within;
  fill(document.getElementById("rooms"), ...VIEWS.filter((v) => v.room).map((v) =>
    el("li", {}, el("a", { href: v.href, "aria-current": v.href === here ? (v === view ? "page" : "true") : null }, v.room))));
}

/** Links to views stay on the page; downloads, other windows and other sites go their own way. */
document.addEventListener("click", (event) => {
  const link = event.target.closest?.("a[href]");
  if (!link || event.defaultPrevented || event.button || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
  if (link.target || link.hasAttribute("download")) return;
  const url = new URL(link.href);
  if (url.origin !== location.origin || !VIEWS.some((v) => v.path.test(url.pathname))) return;
  if (url.hash && url.pathname === location.pathname && url.search === location.search) return;
  event.preventDefault();
  go(link.href);
});
window.addEventListener("popstate", () => enter(true));
window.addEventListener("unhandledrejection", (event) => {
  if (event.reason?.message && event.reason.name !== "AbortError") notice(event.reason.message, "bad");
});
guardsDrops(notice);
enter(false);
