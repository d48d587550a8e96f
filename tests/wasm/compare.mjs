// The engine in Node beside the native program: every example of a call, 200 random requests, faulty
// requests, and times. Usage: node compare.mjs ENGINE-FOLDER PATH-OF-GUARDCELL ROOT
// SEED and COUNT choose other requests. What was asked and answered goes to ENGINE-FOLDER/compared.json,
// from which tests/browser/engine.mjs asks the engine in Chromium the same.
import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { serve } from "../browser/server.mjs";
import { differ, faultOf, nothing, times } from "./differ.mjs";
import { collection, faulty, good } from "./requests.mjs";

const [folder, program, root] = process.argv.slice(2).map((p) => resolve(p));
const [seed, count] = [Number(process.env.SEED ?? 20260621), Number(process.env.COUNT ?? 200)];
const WITHIN = 1e-12;

const module = readFileSync(`${folder}/engine_bg.wasm`);
const engine = await import(pathToFileURL(`${folder}/engine.js`));
const started = performance.now();
engine.initSync({ module });
console.log(`module of ${module.length} bytes, ready after ${(performance.now() - started).toFixed(0)} ms`);

const calls = JSON.parse(engine.calls());
const example = JSON.parse(readFileSync(`${root}/crates/server/page/example.json`, "utf8"));
const server = await serve(program);

/** The program's answer, or what it refused. */
async function native({ path, json, draw }) {
  const accept = draw ? "image/svg+xml" : "application/json";
  const response = await fetch(`${server.address}v1/${path}`, { method: "POST", headers: { "content-type": "application/json", accept }, body: json });
  const text = await response.text();
  return response.ok ? { text } : { fault: faultOf(JSON.parse(text)) };
}

function ours({ name, json, draw }) {
  try {
    return { text: draw ? engine.draw(name, json) : engine.call(name, json) };
  } catch (error) {
    if (error instanceof Error) throw error;
    return { fault: faultOf(error) };
  }
}

const parsed = (asked, { text, fault }) => (fault ? { fault } : { answer: asked.draw ? text : JSON.parse(text) });

async function compare(what, list) {
  const seen = nothing();
  const kept = [];
  let [same, refused] = [0, 0];
  for (const asked of list) {
    const [theirs, mine] = [await native(asked), ours(asked)];
    kept.push({ ...asked, native: theirs });
    if (theirs.fault) refused += 1;
    if (theirs.text !== undefined && theirs.text === mine.text) { same += 1; continue; }
    const before = seen.wrong.length;
    differ(parsed(asked, mine), parsed(asked, theirs), WITHIN, seen);
    if (seen.wrong.length > before) seen.wrong.splice(before, 0, `${asked.name} ${asked.json.slice(0, 160)}`);
  }
  console.log(`${what}: ${list.length} asked, ${same} the same bytes, ${refused} refused by the program; ${seen.numbers} numbers differ, at most by ${seen.worst.toExponential(1)} of their value (${seen.worstAt})`);
  assert.deepEqual(seen.wrong.slice(0, 12), [], `${what}: ${seen.wrong.length} lines`);
  return kept;
}

let failed = 0;
const attempt = async (part) => { try { return await part(); } catch (error) { failed += 1; console.log(`FAIL ${error.message}`); return []; } };
const answered = await attempt(() => compare("good requests", good(calls, example, count, seed)));
await attempt(() => compare("faulty requests", faulty(calls, seed)));
// what is not a text, and what is not a call, has no counterpart over HTTP
await attempt(async () => {
  for (const [name, json, code] of [["air", { temp_c: 20 }, "wrong-form"], [7, "{}", "wrong-form"], ["weather", "{}", "unknown-call"]]) {
    assert.throws(() => engine.call(name, json), (e) => e.code === code && !(e instanceof Error), String(name));
  }
  // the end of what the module may hold: a fault of the engine, not a refusal
  assert.throws(() => engine.draw("air", "{}"), (e) => e.code === "not-acceptable");
});

for (const plants of [48, 120]) {
  const json = JSON.stringify(collection(example, plants));
  for (const name of ["advise", "round"]) {
    const list = [];
    for (let i = 0; i < 15; i += 1) {
      const from = performance.now();
      engine.call(name, json);
      list.push(performance.now() - from);
    }
    console.log(`${name} of ${plants} plants for 36 h in Node: ${times(list)}`);
  }
}
server.stop();
writeFileSync(`${folder}/compared.json`, JSON.stringify(answered));
process.exit(failed ? 1 : 0);
