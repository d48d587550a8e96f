// Journeys about what is kept: nothing of one's own gets lost, and nothing of others runs.
import assert from "node:assert/strict";
import { deflateRawSync } from "node:zlib";
import { address, at, example, kept, open, part, phone, ready, text, wide } from "./harness.mjs";
import { between, device, house, synced } from "./house.mjs";

const POISON = "<img src=x onerror=\"window.poisoned=1\"><script>window.poisoned=1</script>";
const linkOf = (values) => `#with=${deflateRawSync(Buffer.from(JSON.stringify(values))).toString("base64url")}`;
const site = (name) => ({ name, latitude_deg: 51.5, longitude_deg: -0.1, time_zone: "Europe/London", areas: [{ id: "a", name, shelter: "room", light: "sun" }], grower: {} });
const plant = (id, name) => ({ id, name, area: "a", setting: "potted", standing: "ordinary" });

/** Nothing of the poison has become an element, run, or been stopped only by the policy. */
async function clean(page, faults) {
  const found = await page.evaluate(() => [window.poisoned ?? null, document.querySelectorAll("main img, dialog img, main script").length]);
  assert.deepEqual(found, [null, 0]);
  assert.deepEqual(faults.filter((f) => /policy|onerror|inline/i.test(f)), []);
}

export const keeping = {
  async "links opened in a row lose nothing of one's own"() {
    const { page, faults, context } = await open(phone);
    await part(page, "plants");
    await page.getByRole("button", { name: "Add a plant" }).tap();
    await page.keyboard.type("Stanhopea tigrina");
    for (let i = 1; i <= 4; i += 1) {
      await page.goto("about:blank");
      await page.goto(address + linkOf({ site: site(`House ${i}`), plants: [plant("X", `Vanda ${i}`)], readings: [], feed: null, water: null }));
      await ready(page);
    }
    assert.equal(await text(page, "#site-name"), "House 4");
    // what was changed in one of them is one's own as well
    await part(page, "plants");
    await page.locator("#plants-form details.item > summary").first().tap();
    await page.getByText("Change this plant").tap();
    await page.getByLabel("Name on its label").fill("Vanda mine");
    await page.goto("about:blank");
    await page.goto(address + linkOf({ plants: [plant("Y", "Oncidium")] }));
    await ready(page);
    await part(page, "copies");
    const copies = page.locator("#copies-list li");
    await copies.first().waitFor();
    assert.equal(await copies.count(), 2);
    await copies.nth(1).getByRole("button").tap();
    await part(page, "plants");
    assert.match(await text(page, "#plants-form"), /Stanhopea tigrina/);
    // and what was there before that is a copy, too
    await part(page, "copies");
    await page.waitForFunction(() => document.querySelectorAll("#copies-list li").length === 3);
    assert.deepEqual(faults, []);
    await context.close();
  },
  async "a poisoned link, folder or entry runs nothing"() {
    const linked = await open(phone, linkOf({ site: site(POISON), plants: [plant(POISON.slice(0, 60), POISON)], readings: [{ time: "2026-06-21T10:00:00Z", temp_c: 21, rh_percent: 70 }], feed: { name: POISON, form: "powder", guaranteed: { n_percent: 10 } }, labels: [{ name: POISON }], water: { name: POISON }, at: "2026-06-21T12:00" }));
    for (const name of ["day", "round", "plants", "place", "feed", "water", "copies"]) await part(linked.page, name);
    await linked.page.waitForFunction(() => document.getElementById("day-status").textContent !== "Asking…");
    await clean(linked.page, linked.faults);
    await linked.context.close();
    const home = await house([], { "collection.csv": `id,name,area,setting,standing,notes\n"<b>1</b>","${POISON.replaceAll("\"", "\"\"")}",house,mounted,established,"${POISON.replaceAll("\"", "\"\"")}"\n` });
    const { page, faults, context } = await device(home);
    home.run("log", "note", POISON);
    home.run("log", "task", POISON, "--due", "2026-06-01");
    home.run("log", "wipe", "<b>1</b>");
    await part(page, "server");
    await page.getByRole("button", { name: "Sync now" }).click();
    await part(page, "journal");
    await page.waitForFunction(() => document.querySelectorAll("#entries .entries summary").length === 3);
    for (const s of await page.locator("#entries .entries summary").all()) await s.click();
    assert.ok((await text(page, "#entries")).includes(POISON));
    await part(page, "air");
    await page.fill("#air-temp", "21");
    await page.fill("#air-rh", "75");
    await page.getByRole("button", { name: "Use this reading" }).click();
    await page.click("#ask");
    await page.waitForFunction(() => /may be fed/.test(document.getElementById("day-status").textContent));
    assert.ok((await text(page, "#tasks")).includes("<script>"));
    await part(page, "picture");
    await page.waitForSelector("#drawn svg");
    await page.click("#record");
    await page.getByRole("button", { name: "Look for white" }).click();
    await clean(page, faults);
    await context.close();
    home.end();
  },
  async "the page is installed, and a new version takes the place of the old"() {
    const home = await house();
    let version = 1;
    const host = await between(home.address, (path, body) => {
      if (path === "/page.css") return `${body}\n:root { --version: ${version}; }`;
      return path === "/worker.js" ? body.replace(/guardcell-[\da-f]+/, (name) => name.slice(0, -1) + version) : body;
    });
    const { page, faults, context } = await open(phone, "", host.address);
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.waitForFunction(kept);
    const session = await context.newCDPSession(page);
    const { installabilityErrors } = await session.send("Page.getInstallabilityErrors");
    assert.deepEqual(installabilityErrors.map((e) => e.errorId).filter((id) => id !== "in-incognito"), []);
    assert.ok(await page.evaluate(() => navigator.serviceWorker.controller !== null));
    await example(page);
    version = 2;
    await page.reload();
    await page.waitForFunction(async () => (await caches.keys()).every((k) => k.endsWith("2")));
    await page.waitForFunction(kept);
    host.stop();
    await context.setOffline(true);
    await page.reload();
    await ready(page);
    assert.equal(await page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue("--version").trim()), "2");
    assert.match(await text(page, ".next"), /\d\d:\d\d–\d\d:\d\d/);
    assert.deepEqual(faults.filter((f) => !/ERR_|Failed to load/.test(f)), []);
    await context.close();
    home.end();
  },
  async "120 plants take at most six screens"() {
    const { page, context } = await open({ ...phone, viewport: { width: 390, height: 844 } });
    await example(page);
    await page.evaluate(async () => {
      const { state, save } = await import("/keep.js");
      const own = state.plants;
      state.plants = Array.from({ length: 120 }, (_, i) => ({ ...own[i % own.length], id: `P${i}` }));
      save();
    });
    await page.reload();
    await ready(page);
    for (const name of ["plants", "today", "round"]) {
      await part(page, name);
      if (name === "today") { await page.click("#ask"); await page.waitForFunction(() => /of 120 plants may be fed/.test(document.getElementById("day-status").textContent)); }
      const screens = await page.evaluate(() => document.documentElement.scrollHeight / 844);
      console.log(`     ${name}: ${screens.toFixed(1)} screens`);
      if (name !== "round") assert.ok(screens <= 6, `${name}: ${screens.toFixed(1)} screens`);
    }
    // at twice the size of letters nothing is wider than the screen
    await page.setViewportSize({ width: 195, height: 422 });
    for (const name of ["today", "round", "plants", "house"]) {
      await part(page, name);
      const wide = await page.evaluate(() => [...document.querySelectorAll("main *")].filter((n) => n.checkVisibility() && !n.closest(".chips, .scroll, .said") && n.getBoundingClientRect().right > 196).map((n) => n.outerHTML.slice(0, 80)).slice(0, 3));
      assert.deepEqual(wide, [], name);
    }
    await context.close();
  },
};
