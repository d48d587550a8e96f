// A folder with a journal, its server, and a device that is paired with it.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createServer, request } from "node:http";
import { tmpdir } from "node:os";
import { open, part, phone, program } from "./harness.mjs";
import { serve } from "./server.mjs";

/** The invented house in a folder of its own, served; `run` runs the program there. */
export async function house(more = [], change = {}) {
  const folder = mkdtempSync(`${tmpdir()}/house-`);
  const run = (...words) => execFileSync(program, [...words, "--dir", folder], { encoding: "utf8", maxBuffer: 1 << 26, stdio: ["ignore", "pipe", "ignore"] });
  execFileSync(program, ["init", "--demo", folder], { stdio: "ignore" });
  for (const [name, text] of Object.entries(change)) writeFileSync(`${folder}/${name}`, text);
  const options = ["--dir", folder, ...more];
  let server = await serve(program, options);
  const bind = new URL(server.address).host;
  return {
    folder,
    run,
    json: (...words) => JSON.parse(run(...words, "--json")),
    get address() { return server.address; },
    code: () => JSON.parse(run("pair", "--json")).code,
    stop: () => server.stop(),
    async again() { server = await serve(program, options, bind); },
    end() { server.stop(); rmSync(folder, { recursive: true, force: true }); },
  };
}

/** Opens the page of a house, paired by the link of a code. */
export async function device(home, name = "phone", options = phone) {
  const opened = await open(options, `#pair=${home.code()}`, home.address);
  await opened.page.fill("#device-name", name);
  await opened.page.getByRole("button", { name: "Pair this device" }).click();
  await synced(opened.page);
  return opened;
}

/** Nothing waits, and the server was met. */
export const synced = (page) => page.waitForFunction(() => document.getElementById("sync-now").textContent === "synced");

/** Records a look of the plants that are chosen already, at a local time. */
export async function look(page, level, time) {
  await part(page, "today");
  await page.click("#record");
  await page.getByRole("button", { name: "Look for white" }).click();
  if (time) {
    await page.getByText("When, and a note").click();
    await page.fill("#entry-at", time);
  }
  await page.getByRole("button", { name: level, exact: true }).click();
  await page.waitForSelector("dialog:not([open])", { state: "attached" });
}

/** A server between a page and another; what it sends can be changed. */
export async function between(upstream, change) {
  const to = new URL(upstream);
  const server = createServer((asked, answer) => {
    const through = request({ host: to.hostname, port: to.port, path: asked.url, method: asked.method, headers: { ...asked.headers, host: to.host, "accept-encoding": "identity" } }, (got) => {
      const parts = [];
      got.on("data", (part) => parts.push(part));
      got.on("end", () => {
        const body = Buffer.from(change(asked.url, Buffer.concat(parts).toString("latin1")), "latin1");
        const { etag, ...headers } = got.headers;
        answer.writeHead(got.statusCode, { ...headers, "content-length": body.length });
        answer.end(body);
      });
    });
    asked.pipe(through);
  });
  await new Promise((ready) => server.listen(0, "127.0.0.1", ready));
  return { address: `http://127.0.0.1:${server.address().port}/`, stop: () => { server.closeAllConnections(); server.close(); } };
}
