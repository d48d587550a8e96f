// The browser killed (kill −9) while the page writes: what was said to be recorded is there.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { chromium } from "playwright-core";
import { CHROMIUM, FLAGS, ready } from "./harness.mjs";
import { house, synced } from "./house.mjs";

/** A Chromium of its own with what it kept before, and its page. */
async function start(profile, address) {
  const child = spawn(CHROMIUM, [...FLAGS, "--remote-debugging-port=0", `--user-data-dir=${profile}`, "about:blank"], { detached: true, stdio: ["ignore", "ignore", "pipe"] });
  const endpoint = await new Promise((found, failed) => {
    let text = "";
    child.stderr.on("data", (chunk) => {
      text += chunk;
      const url = /ws:\/\/\S+/.exec(text);
      if (url) found(url[0]);
    });
    child.on("exit", (code) => failed(new Error(`Chromium ended with ${code}`)));
  });
  const browser = await chromium.connectOverCDP(endpoint);
  const context = browser.contexts()[0];
  const page = await context.newPage();
  page.setDefaultTimeout(60_000);
  await page.goto(address);
  await ready(page);
  const kill = async () => {
    const gone = new Promise((ended) => { child.removeAllListeners("exit"); child.on("exit", ended); });
    process.kill(-child.pid, "SIGKILL");
    await gone;
    await browser.close().catch(() => {});
  };
  return { page, kill };
}

export const killing = {
  async "a browser killed in mid-write loses nothing that was recorded"() {
    const home = await house();
    const profile = mkdtempSync(`${tmpdir()}/profile-`);
    const [begun, said] = [new Set(), new Set()];
    try {
      for (let turn = 0; turn < 3; turn += 1) {
        const { page, kill } = await start(profile, home.address + (turn ? "" : `#pair=${home.code()}`));
        if (turn === 0) {
          await page.fill("#device-name", "phone");
          await page.getByRole("button", { name: "Pair this device" }).click();
          await synced(page);
        }
        await page.exposeFunction("onBegun", (id) => begun.add(id));
        await page.exposeFunction("onRecorded", (id) => said.add(id));
        const before = said.size;
        page.evaluate(async () => {
          const { draft, record } = await import("/journal.js");
          for (;;) {
            const one = draft({ kind: "wipe", plants: ["FH-001", "FH-002"] });
            await window.onBegun(one.id);
            if (await record([one])) await window.onRecorded(one.id);
          }
        }).catch(() => {});
        const least = 3 + turn;
        while (said.size < before + least) await new Promise((go) => { setTimeout(go, 7 + 5 * turn); });
        await kill();
      }
      const { page, kill } = await start(profile, home.address);
      const kept = await page.evaluate(async () => (await import("/journal.js")).entries().map((e) => e.id));
      assert.deepEqual([...said].filter((id) => !kept.includes(id)), [], "recorded, and not there");
      assert.deepEqual(kept.filter((id) => !begun.has(id)), [], "there, and never recorded");
      assert.equal(new Set(kept).size, kept.length);
      assert.ok(said.size >= 12, `${said.size}`);
      await page.evaluate(async () => { await (await import("/sync.js")).sync(); });
      await page.waitForFunction(() => document.getElementById("sync-now").textContent === "synced");
      await kill();
      const there = home.run("journal", "export").trim().split("\n").map((line) => JSON.parse(line).id);
      assert.deepEqual([...said].filter((id) => !there.includes(id)), [], "recorded, and never sent");
      assert.equal(new Set(there).size, there.length, "nothing is doubled");
    } finally {
      home.end();
      rmSync(profile, { recursive: true, force: true });
    }
  },
};
