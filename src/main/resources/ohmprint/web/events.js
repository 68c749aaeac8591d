// The stream of events of a session: it comes back by itself, and says so when it is away.
import { get } from "./api.js";

const AGAIN_MS = 1000;
const HIDDEN_MS = 20_000;

/**
 * Listens to server-sent events. `handlers` maps names of events to functions of their parsed data. `onLink(state)` hears
 * "here", "away" (no answer; it is tried again each second) or "refused" (the program was started anew, with another
 * link). A window that is hidden for long gives its connection back, because browsers allow few of them to one program.
 * Returns a function that ends it.
 */
export function listen(path, handlers, onLink) {
  let source = null;
  let ended = false;
  let timer = 0;
  let hiding = 0;

  const open = () => {
    clearTimeout(timer);
    if (ended || source) return;
    source = new EventSource(path);
    source.onopen = () => onLink("here");
    source.onerror = lost;
    for (const [name, handle] of Object.entries(handlers)) {
      source.addEventListener(name, (event) => handle(JSON.parse(event.data)));
    }
  };

  const close = () => {
    source?.close();
    source = null;
  };

  const lost = async () => {
    close();
    if (ended) return;
    const refused = await get("/api/workspace").then(() => false, (error) => error.status === 403);
    if (ended) return;
    onLink(refused ? "refused" : "away");
    clearTimeout(timer);
    timer = setTimeout(open, AGAIN_MS);
  };

  const visible = () => {
    clearTimeout(hiding);
    if (document.hidden) hiding = setTimeout(close, HIDDEN_MS);
    else open();
  };

  document.addEventListener("visibilitychange", visible);
  open();
  return () => {
    ended = true;
    close();
    clearTimeout(timer);
    clearTimeout(hiding);
    document.removeEventListener("visibilitychange", visible);
  };
}
