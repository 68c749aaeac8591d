// The only door to the server: requests, uploads, and the stream of events.

/** What the server refused, in its own words. `status` is 0 when it did not answer at all; `body` is what came with it. */
export class ApiError extends Error {
  constructor(message, status, body) {
    super(message);
    this.name = "ApiError";
    this.status = status;
    this.body = body;
  }
}

const ENDED = "The program does not answer; see whether it still runs in its terminal, and start it again if not.";
const FORBIDDEN = "The link of this window is no longer valid, because the program was started anew; open the link that it printed last.";

async function send(method, path, body, options = {}) {
  const request = { method, signal: options.signal, headers: { Accept: "application/json" }, cache: "no-store" };
  if (body !== undefined) {
    const raw = body instanceof Blob || body instanceof ArrayBuffer;
    request.body = raw ? body : JSON.stringify(body);
    request.headers["Content-Type"] = raw ? "application/octet-stream" : "application/json";
  }
  let answer;
  try {
    answer = await fetch(path, request);
  } catch (error) {
    if (error.name === "AbortError") throw error;
    throw new ApiError(ENDED, 0, null);
  }
  const json = (answer.headers.get("Content-Type") ?? "").includes("json");
  const told = json ? await answer.json().catch(() => null) : null;
  if (!answer.ok) {
    const words = told?.error ?? (answer.status === 403 ? FORBIDDEN : `The program answered ${answer.status} to ${path}.`);
    throw new ApiError(words, answer.status, told);
  }
  return told;
}

/** Reads JSON. `options.signal` aborts. */
export const get = (path, options) => send("GET", path, undefined, options);
/** Sends a JSON body. */
export const post = (path, body, options) => send("POST", path, body, options);
/** Changes something; a Blob is sent as it is. */
export const put = (path, body, options) => send("PUT", path, body, options);
/** Takes something away. */
export const remove = (path, options) => send("DELETE", path, undefined, options);

/** An address below /api from parts, each encoded: `at("sessions", name, "takes", file)`. */
export const at = (...parts) => "/api/" + parts.map(encodeURIComponent).join("/");

/** A query string from an object; empty values are left out. */
export function query(values) {
  const text = new URLSearchParams(
    Object.entries(values).filter(([, v]) => v !== null && v !== undefined && v !== "")).toString();
  return text ? "?" + text : "";
}

const MEGABYTE = 2 ** 20;

let limits = null;

/** Refuses a file that the server would refuse, before it is sent: a browser that is still sending may never hear why. */
async function fits(file) {
  limits ??= get("/api/limits").catch((error) => {
    limits = null;
    throw error;
  });
  const most = (await limits).file_bytes;
  if (file.size <= most) return;
  throw new ApiError(`${file.name} has ${Math.ceil(file.size / MEGABYTE)} MB, and this window sends ${Math.floor(most / MEGABYTE)} MB at most; `
    + "copy it into the folder of the session, or take it in on the command line.", 413, null);
}

/** Sends a file and tells the share that has left: fetch cannot do the latter. */
export async function upload(path, file, onShare = () => {}) {
  await fits(file);
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    request.open("PUT", path);
    request.setRequestHeader("Content-Type", "application/octet-stream");
    request.responseType = "json";
    request.upload.onprogress = (e) => e.lengthComputable && onShare(e.loaded / e.total);
    request.onload = () => request.status < 300
      ? resolve(request.response)
      : reject(new ApiError(request.response?.error ?? (request.status === 403 ? FORBIDDEN
        : `The program answered ${request.status} to ${file.name}.`), request.status, request.response));
    request.onerror = () => reject(new ApiError(
      `${file.name} could not be sent: the program ended, or it refused the file while it came.`, 0, null));
    request.send(file);
  });
}

/**
 * Only the latest question is of interest: while one is under way, newer ones replace each other, and the last is asked
 * when the answer is in. Returns `ask(question)`; answers go to `onAnswer(answer, question)`, refusals to `onError`.
 */
export function latest(fetchAnswer, onAnswer, onError) {
  let busy = false;
  let next = null;
  const run = async (question) => {
    busy = true;
    try {
      onAnswer(await fetchAnswer(question), question);
    } catch (error) {
      onError(error, question);
    }
    busy = false;
    if (next !== null) {
      const [waiting] = next;
      next = null;
      run(waiting);
    }
  };
  return (question) => {
    if (busy) next = [question];
    else run(question);
  };
}
