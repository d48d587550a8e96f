// Asking the server, and telling what went wrong: the place, what was wrong and what would be right.
export class Fault extends Error {}

export class Refused extends Fault {
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
  if (error instanceof Fault) return error.message;
  // What fetch throws without a connection has no place in the page's own code worth telling.
  if (navigator.onLine && !/fetch/i.test(error.message)) {
    console.error(error);
    return `The page cannot show this answer (${error.message}); please report it.`;
  }
  return "The server cannot be reached; try again when there is a connection.";
}
