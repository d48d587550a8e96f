// The engine in real Chromium: a static site without a connection, a server with an engine, a fault of
// the engine, and the answers and times of a worker. ENGINE names the folder of the engine.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { differ, faultOf, nothing, times } from "./differ.mjs";
import { site } from "./files.mjs";
import { at, example, kept, open, part, phone, pictures, program, ready, root, run, text, wide } from "./harness.mjs";
import { device, house, look, synced } from "./house.mjs";
import { collection } from "./requests.mjs";
import { serve } from "./server.mjs";

const engine = process.env.ENGINE;
const demo = `${root}/demo-data`;
const WITHIN = 1e-12;
/** The most that an answer may take in a worker of Chromium; wide, as others use the machine too. */
const MOST_MS = 3000;

const folder = mkdtempSync(`${tmpdir()}/site-`);
process.on("exit", () => rmSync(folder, { recursive: true, force: true }));
execFileSync(program, ["page", "--output", folder, "--engine", engine]);

/** Nothing but the last digits of numbers differs. */
function same(mine, theirs, what) {
  const seen = nothing();
  differ(mine, theirs, WITHIN, seen);
  assert.deepEqual(seen.wrong.slice(0, 10), [], what);
}

/** What the program answers to the files of the demo collection. */
function native(verb) {
  const files = ["--collection", `${demo}/collection.csv`, "--site", `${demo}/site.toml`, "--conditions", `${demo}/conditions.csv`, "--water", `${demo}/water.toml`, "--label", `${demo}/labels/fernhollow-mist-15-5-15.toml`];
  return JSON.parse(execFileSync(program, [verb, "--json", ...files, "--no-journal", "--at", "2026-06-21"], { maxBuffer: 1 << 26 }));
}

// The page sends the readings that the window and the day after it need, not the whole year.
const advised = ({ areas, ...rest }) => ({ ...rest, areas: areas.map(({ readings_until, ...area }) => area) });

const journeys = {
  async "a static site plans a round without a connection"() {
    const host = await site(folder);
    const { page, faults, context } = await open(phone, "", host.address);
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.waitForFunction(kept);
    host.stop();
    await context.setOffline(true);
    await page.reload();
    await ready(page);
    await part(page, "files");
    await page.setInputFiles("#house-files input[type=file]", ["site.toml", "collection.csv", "conditions.csv", "water.toml", "labels/fernhollow-mist-15-5-15.toml"].map((f) => `${demo}/${f}`));
    await page.waitForFunction(() => /Loaded/.test(document.getElementById("files-status").textContent));
    assert.match(await page.textContent("#files-status"), /3 areas, 48 plants, \d{5} readings/);
    await at(page, "2026-06-21T12:00");
    await page.waitForSelector("#sheet .bucket", { state: "attached" });
    const shown = await page.evaluate(() => JSON.parse(localStorage.getItem("guardcell-answer")));
    same(advised(shown.advice), advised(native("advise")), "the advice");
    same(shown.plan, native("round"), "the round");
    // names are looked up as with a connection
    await part(page, "names");
    await page.fill("#name", "masdev");
    await page.waitForSelector("#name-list [role=option]");
    await page.keyboard.press("Enter");
    await page.waitForSelector("#taxon .message");
    assert.equal(await page.locator("#offline").isVisible(), false);
    await page.screenshot({ path: `${pictures}/alone.png`, fullPage: true });
    assert.deepEqual(faults.filter((f) => !f.includes("ERR_INTERNET_DISCONNECTED")), []);
    await context.close();
  },
  async "without server and network a day is planned, ticked, looked at and learned from, and synced later"() {
    const home = await house(["--engine", engine]);
    const { page, faults, context } = await device(home);
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.waitForFunction(kept);
    await part(page, "files");
    await page.setInputFiles("#house-files input[type=file]", `${demo}/conditions.csv`);
    await page.waitForFunction(() => /Loaded/.test(document.getElementById("files-status").textContent));
    home.stop();
    await context.setOffline(true);
    await page.reload();
    await ready(page);
    await at(page, "2026-06-20T12:00");
    await part(page, "round");
    const sitting = page.locator("#sheet details.sitting").nth(1);
    await sitting.locator("> summary").tap();
    for (const tick of (await sitting.locator("input[data-plant]").all()).slice(0, 5)) await tick.check();
    await sitting.getByRole("button", { name: /Log the round: 5 of/ }).tap();
    await page.waitForFunction(() => /^Logged for/.test(document.querySelectorAll("#sheet details.sitting")[1].querySelector(".log .status").textContent));
    await look(page, "Faint", "2026-06-21T18:30");
    await at(page, "2026-06-22T12:00");
    const says = /Next: \d+ mg\/L\./.exec(await text(page, ".next"))[0];
    assert.match(await page.textContent("#server-now"), /wait for the server/);
    await page.screenshot({ path: `${pictures}/offline-day.png` });
    // killed and opened again, nothing is lost
    await page.goto("about:blank");
    await page.goto(home.address);
    await ready(page);
    await home.again();
    await context.setOffline(false);
    await page.reload();
    await ready(page);
    await synced(page);
    const mine = await page.evaluate(async () => (await import("./journal.js")).entries());
    const theirs = home.run("journal", "export", "--format", "jsonl").trim().split("\n").map((l) => JSON.parse(l));
    assert.deepEqual(theirs, mine);
    assert.ok(theirs.length >= 2);
    const shown = home.run("round", "--at", "2026-06-22T12:00").replace(/\s+/g, " ");
    assert.ok(shown.includes(says), `${says} is not what the program prints`);
    assert.match(home.run("history", "entries", "--at", "2026-06-22"), /faint/);
    assert.deepEqual(faults.filter((f) => !/ERR_|Failed to load/.test(f)), []);
    await context.close();
    home.end();
  },
  async "a static site can be installed"() {
    const host = await site(folder);
    const { page, faults, context } = await open(phone, "", host.address);
    await page.evaluate(() => navigator.serviceWorker.ready);
    const session = await context.newCDPSession(page);
    const { installabilityErrors } = await session.send("Page.getInstallabilityErrors");
    // the contexts of these tests keep nothing, as those of a private window
    assert.deepEqual(installabilityErrors.map((e) => e.errorId).filter((id) => id !== "in-incognito"), []);
    const { data, errors } = await session.send("Page.getAppManifest");
    assert.deepEqual(errors, []);
    for (const { src } of JSON.parse(data).icons) assert.equal((await fetch(host.address + src)).status, 200, src);
    assert.deepEqual(faults, []);
    await context.close();
    host.stop();
  },
  async "a page served with an engine asks its server nothing"() {
    const server = await serve(program, ["--engine", engine]);
    const { page, faults, context } = await open(wide, "", server.address);
    const asked = [];
    context.on("request", (r) => { if (r.url().includes("/v1/") || r.url().includes("healthz")) asked.push(r.url()); });
    await example(page);
    assert.match(await text(page, "#day-status"), /of 48 plants may be fed/);
    await part(page, "feed");
    await page.getByRole("button", { name: "Work out what to weigh" }).click();
    await page.waitForSelector("#recipe .bucket");
    assert.deepEqual(asked, []);
    const policy = (await fetch(server.address)).headers.get("content-security-policy");
    assert.match(policy, /script-src 'self' 'wasm-unsafe-eval';/);
    const module = await fetch(`${server.address}engine_bg.wasm`, { headers: { "accept-encoding": "gzip" } });
    assert.equal(module.headers.get("content-type"), "application/wasm");
    assert.equal(module.headers.get("content-encoding"), "gzip");
    assert.deepEqual(faults, []);
    await context.close();
    server.stop();
  },
  async "a fault of the engine ends its worker and not the page"() {
    const host = await site(folder);
    const { page, context } = await open({ ...wide, serviceWorkers: "block" }, "", host.address);
    await example(page);
    await part(page, "today");
    const workers = () => page.workers().length;
    assert.equal(workers(), 1);
    // what a panic is for the script around the module: a RuntimeError in the middle of a call
    await context.route("**/engine.js", (route) => route.fulfill({ contentType: "text/javascript", body: `
      import init, { call as real, draw } from "./engine.js?real";
      export default init;
      export { draw };
      export function call(name, json) { if (name === "advise") throw new WebAssembly.RuntimeError("unreachable"); return real(name, json); }` }));
    await page.reload();
    await ready(page);
    await page.click("#ask");
    await page.waitForSelector("#day-status.wrong");
    assert.match(await text(page, "#day-status"), /failed at this and was started anew/);
    // the next question finds a new worker
    await context.unroute("**/engine.js");
    await page.click("#ask");
    await page.waitForFunction(() => /may be fed/.test(document.getElementById("day-status").textContent));
    assert.equal(workers(), 1);
    await context.close();
    host.stop();
  },
  async "the engine in a worker answers as the program does"() {
    const compared = JSON.parse(readFileSync(`${engine}/compared.json`, "utf8")).filter((q) => !q.draw);
    const host = await site(folder);
    const { page, context } = await open(wide, "", host.address);
    const start = async () => {
      window.asked = await new Promise((found) => {
        const worker = new Worker("engine-worker.js", { type: "module" });
        const from = performance.now();
        const waiting = [];
        const ask = (name, json) => new Promise((done) => { waiting.push(done); worker.postMessage({ turn: 0, name, json }); });
        worker.onmessage = ({ data }) => { if (data.ready) { window.ready = performance.now() - from; found(ask); } else waiting.shift()(data); };
      });
      return window.ready;
    };
    console.log(`     fetched, compiled and started in ${(await page.evaluate(start)).toFixed(0)} ms`);
    const seen = nothing();
    for (let i = 0; i < compared.length; i += 40) {
      const some = compared.slice(i, i + 40);
      const answers = await page.evaluate(async (list) => { const out = []; for (const { name, json } of list) out.push(await window.asked(name, json)); return out; }, some.map(({ name, json }) => ({ name, json })));
      some.forEach(({ name, native: theirs }, k) => {
        const mine = answers[k].refused ? { fault: faultOf(answers[k].refused) } : { answer: JSON.parse(answers[k].answer) };
        const before = seen.wrong.length;
        differ(mine, theirs.fault ? { fault: theirs.fault } : { answer: JSON.parse(theirs.text) }, WITHIN, seen);
        if (seen.wrong.length > before) seen.wrong.splice(before, 0, `${name}, request ${i + k}`);
      });
    }
    console.log(`     ${compared.length} answers; ${seen.numbers} numbers differ, at most by ${seen.worst.toExponential(1)} of their value`);
    assert.deepEqual(seen.wrong.slice(0, 10), []);
    const data = JSON.parse(readFileSync(`${root}/crates/server/page/example.json`, "utf8"));
    for (const plants of [48, 120]) {
      for (const name of ["advise", "round"]) {
        const list = await page.evaluate(async ([n, json]) => {
          const out = [];
          for (let i = 0; i < 15; i += 1) { const from = performance.now(); await window.asked(n, json); out.push(performance.now() - from); }
          return out;
        }, [name, JSON.stringify(collection(data, plants))]);
        console.log(`     ${name} of ${plants} plants for 36 h in a worker of Chromium: ${times(list)}`);
        assert.ok(Math.min(...list) < MOST_MS, `${name} of ${plants} plants`);
      }
    }
    await context.close();
    host.stop();
  },
  async "a folder of somebody else is not written to"() {
    const other = mkdtempSync(`${tmpdir()}/other-`);
    writeFileSync(`${other}/index.html`, "mine");
    assert.throws(() => execFileSync(program, ["page", "--output", other, "--engine", engine], { stdio: "pipe" }), /not of an earlier page/);
    assert.equal(readFileSync(`${other}/index.html`, "utf8"), "mine");
    rmSync(other, { recursive: true });
    // the same site again is no foreign one
    execFileSync(program, ["page", "--output", folder, "--engine", engine]);
    assert.throws(() => execFileSync(program, ["page", "--output", `${folder}-none`], { stdio: "pipe" }), /cargo xtask wasm/);
  },
};

await run(journeys);
