// Asking the server. A refusal becomes an Error with the place, what was wrong and what would be right.
export class Refused extends Error {
  constructor(problem) {
    super(problem.pointer ? `${place(problem.pointer)}: ${problem.wrong}; ${problem.right}` : `${problem.wrong}; ${problem.right}`);
    this.problem = problem;
  }
}

function place(pointer) {
  const parts = pointer.split("/").slice(1).map((p) => p.replaceAll("~1", "/").replaceAll("~0", "~"));
  return parts.map((p) => (/^\d+$/.test(p) ? `no. ${Number(p) + 1}` : p.replaceAll("_", " "))).join(", ") || "the request";
}

async function answer(response) {
  const body = await response.json();
  if (!response.ok) throw new Refused(body);
  return body;
}

export async function post(path, request) {
  return answer(await fetch(path, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(request),
  }));
}

export async function get(path) {
  return answer(await fetch(path));
}

/** Shows that something went wrong, or what is going on, in a status line. */
export function tell(line, words, wrong = false) {
  line.textContent = words;
  line.classList.toggle("wrong", wrong);
}

/** Words for an error of any kind. */
export function words(error) {
  if (error instanceof Refused) return error.message;
  // What fetch throws without a connection has no place in the page's own code worth telling.
  if (navigator.onLine && !/fetch/i.test(error.message)) {
    console.error(error);
    return `The page cannot show this answer (${error.message}); please report it.`;
  }
  return "The server cannot be reached; try again when there is a connection.";
}

/** An element with attributes and children; strings become text, never markup. */
export function el(name, attributes = {}, ...children) {
  const node = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined || value === null || value === false) continue;
    if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
    else if (key in node && typeof value !== "string") node[key] = value;
    else node.setAttribute(key, value === true ? "" : value);
  }
  node.append(...children.flat().filter((c) => c !== null && c !== undefined && c !== false));
  return node;
}

/** A number to three significant digits. */
export function round(value) {
  return value === null || value === undefined ? "–" : Number(Number(value).toPrecision(3)).toLocaleString("en-GB", { maximumFractionDigits: 3 });
}

/** Bounds as "a–b", or the one value. */
export function bounds(b) {
  const [low, high] = [round(b.low), round(b.high)];
  return low === high ? low : `${low}–${high}`;
}
