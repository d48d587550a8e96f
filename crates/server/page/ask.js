// Questions, answered by the engine on this device or else by the server, and errors for people:
// place, what is wrong, what would be right.
import { alone, ask as onDevice, draw as drawnHere, here } from "./device.js";
import { Fault } from "./fault.js";

export class Refused extends Fault {
  constructor(problem) {
    const text = [problem.detail, problem.hint].filter(Boolean).join("; ");
    const where = [file(problem.place), problem.pointer ? place(problem.pointer) : ""].filter(Boolean).join(": ");
    super(where ? `${where}: ${text}` : text);
    this.problem = problem;
  }
}

/** Where in a file: "plants.csv, line 2". */
function file(at) {
  return at?.file ? [at.file, at.line && `line ${at.line}`].filter(Boolean).join(", ") : "";
}

function place(pointer) {
  const parts = pointer.split("/").slice(1).map((p) => p.replaceAll("~1", "/").replaceAll("~0", "~"));
  return parts.map((p) => (/^\d+$/.test(p) ? `no. ${Number(p) + 1}` : p.replaceAll("_", " "))).join(", ") || "the request";
}

export class Unreachable extends Fault {
  constructor() { super("The server cannot be reached; try again when there is a connection."); }
}

/** Where the server answers what the engine answers by name. */
const PATHS = {
  advise: "advice", round: "rounds", day: "days", recipe: "recipes", water: "waters", genus: "taxa", search: "taxa/search",
  air: "air", rescue: "rescues", day_ribbon: "charts/day", review: "journal/review", given: "journal/given", device_journal: "journal/device", with_journal: "journal/situation",
  read_entries: "files/entries", write_entries: "files/entries/text", read_site: "files/site", read_collection: "files/collection", read_labels: "files/labels", read_water: "files/water", read_readings: "files/readings", read_logger: "files/logger", probe_logger: "files/logger/probe",
};

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

const refused = (fault) => new Refused(fault);
const post = (name, request, accept) => reach(`v1/${PATHS[name]}`, { method: "POST", headers: { "content-type": "application/json", accept }, body: JSON.stringify(request) });

/** Asks by the name of a call. */
export const ask = async (name, request) => await onDevice(name, request, refused) ?? answer(await post(name, request, "application/json"));

/** Asks for the picture of an answer, as the text of an SVG. */
export async function draw(name, request) {
  const here = await drawnHere(name, request, refused);
  if (here !== undefined) return here;
  const response = await post(name, request, "image/svg+xml");
  return response.ok ? response.text() : answer(response);
}

/** Asks the server for what only a paired device may; gives the status beside the answer. */
export async function paired(path, token, options = {}) {
  const response = await reach(path, { ...options, headers: { ...options.headers, ...(token ? { authorization: `Bearer ${token}` } : {}) } });
  return { status: response.status, wait: Number(response.headers.get("retry-after")) || 0, body: await answer(response).catch((error) => { if (response.ok || !(error instanceof Fault)) throw error; return { error }; }) };
}

/** All names: from the engine, or from the server as this device may have cached them. */
export async function catalogue() {
  return await onDevice("catalogue", {}, refused) ?? cached("v1/catalogue");
}

/** Fetches what this device may have cached: an answer does not prove that the server is there. */
export async function cached(path) {
  const response = await fetch(path).catch(() => null);
  if (!response) throw new Unreachable();
  return answer(response);
}

/** Looks whether the server is there, if it is needed. */
export const there = () => (here() || alone ? null : reach("healthz").catch(() => null));

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
