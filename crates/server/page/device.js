// The engine on this device: guardcell compiled to WebAssembly, in a worker of its own. A fault of the
// engine ends the worker, memory and all; the next question starts another.
import { Fault } from "./fault.js";

const served = document.documentElement.dataset;
/** Whether this page was served without a server that calculates. */
export const alone = served.alone === "yes";
let able = served.engine === "yes";

let worker = null;
let turn = 0;
const waiting = new Map();

/** Ends the worker; every question that waits for it fails with this. */
function end(error) {
  worker?.terminate();
  worker = null;
  for (const { fail } of waiting.values()) fail(error);
  waiting.clear();
}

/** The engine cannot run in this browser. */
class Unable extends Error {}

function start() {
  let ready = false;
  worker = new Worker("engine-worker.js", { type: "module" });
  worker.onmessage = ({ data }) => {
    if (data.ready) { ready = true; return; }
    if (data.unable) { end(new Unable(data.unable)); return; }
    if (data.broken) { console.warn(data.broken); end(new Fault("The engine on this device failed at this and was started anew; nothing you entered is lost. Please report it.")); return; }
    const asked = waiting.get(data.turn);
    waiting.delete(data.turn);
    if (data.refused) asked?.refuse(data.refused); else asked?.answer(data.answer);
  };
  // a script that cannot be loaded, or that this browser cannot read
  worker.onerror = (e) => { e.preventDefault(); end(ready ? new Fault("The engine on this device stopped; try again.") : new Unable(e.message)); };
}

/** Whether the engine may be asked. */
export const here = () => able;

/**
 * Asks the engine; `refused` makes an error of what it refuses. Gives undefined where the engine does
 * not run here, so that somebody else can be asked.
 */
export async function ask(name, request, refused) {
  const answer = await question(name, request, refused, false);
  return answer === undefined ? undefined : JSON.parse(answer);
}

/** The same for a picture, as the text of an SVG. */
export const draw = (name, request, refused) => question(name, request, refused, true);

async function question(name, request, refused, picture) {
  if (!able) return undefined;
  if (!worker) start();
  turn += 1;
  const mine = turn;
  try {
    return await new Promise((found, fail) => {
      waiting.set(mine, { answer: found, fail, refuse: (fault) => fail(refused(fault)) });
      worker.postMessage({ turn: mine, name, picture, json: JSON.stringify(request) });
    });
  } catch (error) {
    if (!(error instanceof Unable)) throw error;
    if (alone) throw new Fault("This browser cannot run the engine of this page (WebAssembly); use a newer one.");
    able = false;
    return undefined;
  }
}
