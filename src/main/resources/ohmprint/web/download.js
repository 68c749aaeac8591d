// Fetching a file to keep: a refusal is told in words instead of being saved as a file.
import { ApiError } from "./api.js";
import { el, notice } from "./dom.js";

/** Fetches `path` and hands it to the browser to keep, under the name that the program gives it, else `name`. */
export async function download(path, name) {
  let answer;
  try {
    answer = await fetch(path, { cache: "no-store" });
  } catch {
    throw new ApiError(`${name} could not be fetched: the program does not answer; see whether it still runs.`, 0, null);
  }
  if (!answer.ok) {
    const told = await answer.json().catch(() => null);
    throw new ApiError(told?.error ?? `The program answered ${answer.status} to ${name}.`, answer.status, told);
  }
  const given = /filename="?([^";]+)"?/.exec(answer.headers.get("Content-Disposition") ?? "")?.[1];
  save(await answer.blob(), given ?? name);
  notice(`${given ?? name} is ready; the browser keeps it where it keeps downloads.`, "good");
}

/** Hands a blob to the browser to keep. */
export function save(blob, name) {
  const href = URL.createObjectURL(blob);
  const link = el("a", { href, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(href), 60_000);
}
