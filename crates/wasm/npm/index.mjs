// Every call of guardcell in Node and in bundlers: the engine with functions, and refusals as errors.
import init, { call as ask, calls as list, draw as picture, initSync } from "./engine.js";

/** What guardcell refused. */
export class GuardcellError extends Error {
  constructor({ code, pointer, detail, hint, place }) {
    super(hint ? `${detail}; ${hint}` : detail);
    this.name = "GuardcellError";
    Object.assign(this, { code, pointer: pointer ?? "", detail, hint: hint ?? "" });
    if (place) this.place = place;
  }
}

/** A fault of the engine itself (`WebAssembly.RuntimeError`) is passed on as it is. */
function asked(work) {
  try {
    return work();
  } catch (thrown) {
    throw thrown instanceof Error ? thrown : new GuardcellError(thrown);
  }
}

let loading;

async function start(module) {
  if (module !== undefined) return init({ module_or_path: module });
  const address = new URL("./engine_bg.wasm", import.meta.url);
  if (address.protocol !== "file:") return init({ module_or_path: address });
  // Node cannot fetch a file.
  const { readFile } = await import("node:fs/promises");
  return initSync({ module: await readFile(address) });
}

/** Loads the engine once and gives a function for every call. */
export function load(module) {
  loading ??= start(module).then(
    () => {
      const text = (name, json) => asked(() => ask(name, json));
      const call = (name, request) => JSON.parse(text(name, JSON.stringify(request)));
      const draw = (name, request) => asked(() => picture(name, JSON.stringify(request)));
      const calls = JSON.parse(list());
      const named = calls.map(({ name }) => [name, (request) => call(name, request)]);
      return Object.freeze({ ...Object.fromEntries(named), call, text, draw, calls });
    },
    (error) => {
      loading = undefined; // another try may fetch it
      throw error;
    },
  );
  return loading;
}
