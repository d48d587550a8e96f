// This device and the server of a folder: pairing, sending, reading. What is sent and how an answer is
// taken is decided by `device_journal`.
import { paired, Unreachable } from "./ask.js";
import { alone } from "./device.js";
import { aside, cursor, settle, step, toSend, waiting } from "./journal.js";
import { get, drop, put } from "./store.js";

const KEY = "paired";
/** Requests of one meeting: a server that never ends is left. */
const MOST = 1000;
let mine = null;
/** What is going on: none, idle, running, offline, revoked, slow, failed. */
let phase = "none";
let fault = "";
let again = false;
let running = null;

const tell = () => dispatchEvent(new Event("guardcell-sync"));
function now(what, words = "") { phase = what; fault = words; tell(); }

export const server = () => mine;
export const status = () => ({ phase, fault, waiting: waiting(), refused: aside().length, last: mine?.last });

export async function begin() {
  mine = await get("kept", KEY) ?? null;
  phase = mine ? (mine.revoked ? "revoked" : "idle") : "none";
  tell();
}

const keep = () => put("kept", KEY, mine);

/** Gives the code for a token. */
export async function pair(code, name) {
  const { body } = await paired("v1/pair", null, { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ code: code.trim(), name: name.trim() }) });
  if (body.error) throw body.error;
  mine = { token: body.token, name: body.name, site: body.site, taken: mine?.taken };
  await keep();
  now("idle");
}

/** The device knows of no server any more; its journal stays. */
export async function leave() {
  mine = null;
  await drop("kept", KEY);
  now("none");
}

/** The folder of the server, where it is another than the one that was taken last. */
export async function folder() {
  const { status: code, body } = await paired("v1/folder", mine.token, { cache: "no-cache" });
  if (code !== 200) throw body.error;
  const text = JSON.stringify(body);
  return { body, text, isNew: text !== mine.taken };
}

export async function folderTaken(text) { mine.taken = text; await keep(); }

class Stopped extends Error {}

async function request(path, options) {
  const { status: code, body, wait } = await paired(path, mine.token, options);
  if (code === 401 || code === 403) { mine.revoked = true; await keep(); now("revoked"); throw new Stopped(); }
  if (code === 429 || code === 503) { now("slow"); setTimeout(sync, 1000 * Math.max(5, wait)); throw new Stopped(); }
  if (body.error) { now("failed", body.error.message); throw new Stopped(); }
  return body;
}

/** Sends what waits and reads what is new, until both are done. */
async function meet() {
  let left = MOST;
  await settle();
  await step({});
  for (let round = 0; round < 2; round += 1) {
    let before = null;
    while (toSend() && JSON.stringify(toSend()) !== before && (left -= 1) > 0) {
      before = JSON.stringify(toSend());
      await step({ answered: await request("v1/journal/entries", { method: "POST", headers: { "content-type": "application/json" }, body: before }) });
    }
    let page;
    do {
      page = await request(`v1/journal/entries?since=${encodeURIComponent(cursor())}`, { cache: "no-store" });
      await step({ arrived: page });
    } while (page.more && (left -= 1) > 0);
    // A journal that was replaced by a backup may want some of it again.
    if (!toSend()) break;
  }
  mine.last = Date.now();
  await keep();
}

/** Meets the server, once at a time; what is recorded meanwhile goes with the next meeting. */
export function sync() {
  if (!mine || mine.revoked || alone) return Promise.resolve();
  if (running) { again = true; return running; }
  now("running");
  running = meet().then(() => now("idle"), (error) => {
    if (error instanceof Stopped) return;
    now(error instanceof Unreachable ? "offline" : "failed", error.message);
  }).finally(() => {
    running = null;
    if (again) { again = false; sync(); }
  });
  return running;
}
