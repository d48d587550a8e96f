// Requests to the server, and errors for people: place, what is wrong, what would be right.
export class Fault extends Error {}

export class Refused extends Fault {
  constructor(problem) {
    const text = [problem.detail, problem.hint].filter(Boolean).join("; ");
    super(problem.pointer ? `${place(problem.pointer)}: ${text}` : text);
    this.problem = problem;
  }
}

function place(pointer) {
  const parts = pointer.split("/").slice(1).map((p) => p.replaceAll("~1", "/").replaceAll("~0", "~"));
  return parts.map((p) => (/^\d+$/.test(p) ? `no. ${Number(p) + 1}` : p.replaceAll("_", " "))).join(", ") || "the request";
}

class Unreachable extends Fault {
  constructor() { super("The server cannot be reached; try again when there is a connection."); }
}

/** Fetches, and reports whether the server was reached: a device may have a network but no server. */
async function reach(path, options) {
  const response = await fetch(path, options).catch(() => null);
  dispatchEvent(new CustomEvent("guardcell-reach", { detail: response !== null }));
  if (!response) throw new Unreachable();
  return response;
}

async function answer(response) {
  let body;
  try { body = await response.json(); } catch { throw new Fault(`The server answered ${response.status} without an explanation; try again, and report it if it persists.`); }
  if (!response.ok) throw new Refused(body);
  return body;
}

export async function post(path, request) {
  return answer(await reach(path, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(request),
  }));
}

export async function get(path) {
  return answer(await reach(path));
}

/** Fetches what this device may have cached: an answer does not prove that the server is there. */
export async function cached(path) {
  const response = await fetch(path).catch(() => null);
  if (!response) throw new Unreachable();
  return answer(response);
}

/** Whether the server is there. */
export const there = () => reach("healthz").catch(() => null);

/** Shows an error or the progress in a status line. */
export function show(line, words, wrong = false) {
  line.textContent = words;
  line.classList.toggle("wrong", wrong);
}

/** Text for an error of any kind. */
export function words(error) {
  if (error instanceof Fault) return error.message;
  console.error(error);
  return `The page cannot show this answer (${error.message}); please report it.`;
}
