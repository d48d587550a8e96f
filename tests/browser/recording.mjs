// Journeys of days: the first start, a round that is ticked and logged, looks, a rescue, two devices.
import assert from "node:assert/strict";
import { accessible, at, open, part, phone, pictures, text } from "./harness.mjs";
import { device, house, look, synced } from "./house.mjs";

const HOURS = "2026-06-20T12:00";

/** Ticks all but the last plant of a sitting and logs it. */
async function logged(page, sitting, strength) {
  await part(page, "round");
  const box = page.locator("#sheet details.sitting").nth(sitting);
  if (!await box.evaluate((d) => d.open)) await box.locator("> summary").click();
  const ticks = box.locator("input[data-plant]");
  const n = await ticks.count();
  for (let i = 0; i < n - 1; i += 1) await ticks.nth(i).check();
  const left = await ticks.nth(n - 1).getAttribute("data-plant");
  if (strength) {
    await box.getByText("Done differently?").click();
    await box.getByLabel("Strength, mg/L").first().fill(strength);
  }
  await box.getByRole("button", { name: `Log the round: ${n - 1} of ${n} plants` }).click();
  await page.waitForFunction((i) => /^Logged for/.test(document.querySelectorAll("#sheet details.sitting")[i].querySelector(".log .status").textContent), sitting);
  return { n, left };
}

/** The readings of a file of the house. */
async function readings(page, home) {
  await part(page, "files");
  await page.setInputFiles("#house-files input[type=file]", `${home.folder}/conditions.csv`);
  await page.waitForFunction(() => /Loaded/.test(document.getElementById("files-status").textContent));
}

export const recording = {
  async "a first start gives an answer in ten taps and seven fields"() {
    const { page, faults, context } = await open(phone);
    const first = page.locator(".wizard");
    let taps = 0;
    const fill = async (label, value) => { taps += 1; await first.getByLabel(label, { exact: true }).tap(); await page.keyboard.type(value); };
    await fill("A plant of yours", "Phalaenopsis amabilis");
    await first.getByLabel("Grown", { exact: true }).selectOption("potted");
    await first.getByLabel("In a", { exact: true }).selectOption("room");
    taps += 2;
    await fill("Latitude, ° north", "51.5");
    await fill("Longitude, ° east", "-0.1");
    // what cannot be right is refused while it is typed
    await fill("Temperature now, °C", "72");
    await page.waitForSelector("#first-temp_c[aria-invalid=true] + .fault");
    assert.match(await text(page, ".wizard .fault"), /72.*°C/);
    await accessible(page, "a field that is refused");
    await first.getByLabel("Temperature now, °C", { exact: true }).fill("22");
    await fill("Humidity now, %", "60");
    await page.waitForSelector(".wizard .fault", { state: "detached" });
    await page.getByRole("button", { name: "Show the answer" }).tap();
    taps += 1;
    await page.waitForFunction(() => /of 1 plant may be fed/.test(document.getElementById("day-status").textContent));
    assert.ok(taps <= 10, `${taps} taps`);
    assert.ok(await page.locator(".next").isVisible());
    assert.equal(await page.locator(".wizard").count(), 0);
    // the refusal of 72 °C is an error in the console of a browser
    assert.deepEqual(faults.filter((f) => !f.includes("422")), []);
    await context.close();
  },
  async "a day: the folder is taken over, a round is ticked and logged, a look is two taps, and the next strength is that of the program"() {
    const home = await house();
    const { page, faults, context } = await device(home);
    assert.match(await text(page, "#site-name"), /Fernhollow/);
    assert.match(home.run("pair", "--list"), /phone/);
    await readings(page, home);
    await at(page, HOURS);
    // Today says in its first screen what is next
    const { height } = page.viewportSize();
    for (const part of [".next .hour", ".next .fact"]) assert.ok((await page.locator(part).first().boundingBox()).y < height, part);
    const { n, left } = await logged(page, 1, "300");
    await synced(page);
    const there = home.run("history", "entries", "--at", "2026-06-22").replace(/\s+/g, " ");
    assert.match(there, /300 mg\/L/);
    assert.doesNotMatch(there, new RegExp(left));
    // the ticks and what was logged are still there
    await page.reload();
    await page.waitForSelector("#sheet details.sitting", { state: "attached" });
    assert.match(await text(page, "#sheet details.sitting >> nth=1"), /Logged for/);
    // from the task that is due: one tap for the sheet, one for what was seen
    await at(page, "2026-06-21T19:00");
    const due = page.locator("#tasks li", { hasText: "Look for white" });
    await due.getByRole("button").tap();
    assert.match(await text(page, "dialog .choose"), new RegExp(`All of the last round \\(${n - 1}\\)`));
    await page.screenshot({ path: `${pictures}/look-phone.png` });
    await page.keyboard.press("Escape");
    await look(page, "Faint", "2026-06-21T18:30");
    await synced(page);
    assert.match(home.run("history", "entries", "--at", "2026-06-22"), /faint/);
    await at(page, "2026-06-22T12:00");
    const shown = await page.evaluate(() => JSON.parse(localStorage.getItem("guardcell-answer")));
    const plan = JSON.parse(JSON.stringify(home.json("round", "--at", "2026-06-22T12:00")));
    assert.deepEqual(shown.plan, plan);
    assert.ok(shown.situation.learned.looks > 0);
    const says = await text(page, ".next");
    assert.match(says, /Next: \d+ mg\/L/);
    assert.ok(home.run("round", "--at", "2026-06-22T12:00").replace(/\s+/g, " ").includes(/Next: \d+ mg\/L\./.exec(says)[0]));
    // a plant of its own, with what it got
    await part(page, "plants");
    await page.locator("#plants-form .area summary").first().tap();
    await page.locator('#plants-form details.item[data-plant="FH-001"] > summary').tap();
    await page.waitForFunction(() => /Next\s*\d+ mg\/L feed/.test(document.querySelector('details[data-plant="FH-001"]').innerText.replace(/\u00a0/g, " ")));
    assert.match(await text(page, 'details[data-plant="FH-001"]'), /Threshold.*g\/m²/);
    await accessible(page, "a plant with a history");
    // an entry is corrected, and another taken back
    await part(page, "journal");
    await page.locator("#journal .entries summary").first().tap();
    await page.locator("#journal").getByRole("button", { name: "Correct" }).first().tap();
    await page.getByRole("button", { name: "No white", exact: true }).tap();
    await page.waitForFunction(() => /no white/.test(document.querySelector("#journal .entries").textContent));
    await synced(page);
    assert.doesNotMatch(home.run("history", "entries", "--at", "2026-06-22"), /faint/);
    await page.locator("#journal .entries summary").first().tap();
    await page.locator("#journal").getByRole("button", { name: "Delete" }).first().tap();
    await page.waitForFunction(() => !/Look/.test(document.querySelector("#journal .entries").textContent));
    await synced(page);
    assert.doesNotMatch(home.run("history", "entries", "--at", "2026-06-22"), /look|residue (none|faint)/);
    // what the device saves is what the program exports
    await part(page, "server");
    const [file] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Save the journal as a file" }).tap()]);
    const { readFileSync } = await import("node:fs");
    assert.equal(readFileSync(await file.path(), "utf8"), home.run("journal", "export", "--format", "jsonl"));
    assert.deepEqual(faults, []);
    await context.close();
    home.end();
  },
  async "a rescue, growth with a photo, a wipe and a task"() {
    const home = await house();
    const { page, faults, context } = await device(home);
    await readings(page, home);
    await at(page, HOURS);
    await page.locator("#tasks li", { hasText: "Soak" }).getByRole("button").tap();
    assert.match(await text(page, "dialog .choose"), /1 plant: FH-015/);
    await page.locator("dialog").getByRole("button", { name: "Record it" }).tap();
    await page.waitForSelector("dialog .status.wrong");
    await page.locator("dialog").getByLabel(/Feed strength/).fill("50");
    await page.locator("dialog").getByLabel("Minutes").fill("9999");
    await page.locator("dialog").getByRole("button", { name: "Record it" }).tap();
    await page.waitForSelector("dialog .fault");
    assert.match(await text(page, "dialog .fault"), /9999|1440/);
    await page.locator("dialog").getByLabel("Minutes").fill("20");
    await page.locator("dialog").getByRole("button", { name: "Record it" }).tap();
    await page.waitForSelector("dialog:not([open])", { state: "attached" });
    const record = async (kind, fill) => {
      await part(page, "today");
      await page.tap("#record");
      await page.locator("dialog").getByRole("button", { name: kind, exact: true }).tap();
      await fill();
      await page.locator("dialog").getByRole("button", { name: "Record it" }).tap();
      await page.waitForSelector("dialog:not([open])", { state: "attached" });
    };
    const one = async (id) => { await page.locator("dialog").getByText("One by one").tap(); await page.locator("dialog").getByLabel(new RegExp(`^${id} `)).check(); };
    // a picture of one point
    const png = Buffer.from("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==", "base64");
    await record("Growth", async () => { await one("FH-015"); await page.locator("dialog").getByLabel("What", { exact: true }).selectOption("new_root"); await page.locator("dialog").getByLabel(/How many/).fill("2"); await page.setInputFiles("#entry-photo", { name: "root.png", mimeType: "image/png", buffer: png }); });
    await record("Wipe", () => page.locator("dialog").getByRole("button", { name: /Shelf room/ }).tap());
    await record("Task", async () => { await page.locator("dialog").getByLabel("Due").fill("2026-06-19"); await page.locator("dialog").getByLabel("What is to be done").fill("repot the Vanda"); });
    await record("Flush", async () => { await one("FH-010"); await page.locator("dialog").getByLabel(/Water poured/).fill("1,5"); });
    await synced(page);
    const there = home.run("history", "entries").replace(/\s+/g, " ");
    for (const words of [/soak/i, /2 new roots?|new.root/i, /wipe/i, /repot the Vanda/, /flush/i]) assert.match(there, words);
    await part(page, "journal");
    await page.locator("#journal .entries summary", { hasText: "Growth" }).tap();
    await page.waitForSelector("#journal canvas.photo");
    await accessible(page, "the journal");
    assert.match(there, /FH-015-[\d-]+\.png/);
    // the task is due, and done
    await at(page, "2026-12-20T12:00");
    await page.locator("#tasks li", { hasText: "repot the Vanda" }).getByRole("button").tap();
    await page.locator("dialog").getByRole("button", { name: "Record it" }).tap();
    await page.waitForFunction(() => !/repot/.test(document.getElementById("tasks").textContent));
    assert.deepEqual(faults.filter((f) => !f.includes("422")), []);
    await context.close();
    home.end();
  },
  async "what is recorded without a connection waits and is synced later; two devices correct one entry; a token is revoked"() {
    const home = await house();
    const first = await device(home, "first");
    const second = await device(home, "second");
    const wipe = async ({ page }) => {
      await part(page, "today");
      await page.click("#record");
      await page.locator("dialog").getByRole("button", { name: "Wipe", exact: true }).click();
      await page.locator("dialog").getByRole("button", { name: /Trees/ }).click();
      await page.getByRole("button", { name: "Record it" }).click();
      await page.waitForSelector("dialog:not([open])", { state: "attached" });
    };
    // the server is gone: nobody can check it, and it waits
    home.stop();
    await wipe(first);
    await first.page.waitForFunction(() => /1 entry waits/.test(document.getElementById("server-now").textContent));
    await part(first.page, "journal");
    assert.match(await text(first.page, "#entries"), /waits to be checked/);
    await first.page.reload();
    await first.page.waitForSelector("html[data-ready=yes]").catch(() => {});
    await home.again();
    await first.page.goto(home.address);
    await synced(first.page);
    assert.equal(home.run("history", "entries").match(/wipe/gi).length, 1);
    await part(second.page, "server");
    await second.page.getByRole("button", { name: "Sync now" }).click();
    await part(second.page, "journal");
    await second.page.waitForSelector("#entries .entries summary");
    // both correct it while only one has a connection
    const correct = async ({ page }, note) => {
      await part(page, "journal");
      await page.locator("#entries .entries summary").first().click();
      await page.locator("#entries").getByRole("button", { name: "Correct" }).click();
      await page.getByLabel("Note", { exact: true }).fill(note);
      await page.getByRole("button", { name: "Record it" }).click();
      await page.waitForSelector("dialog:not([open])", { state: "attached" });
    };
    await second.context.route("**/v1/journal/entries*", (route) => route.abort());
    await correct(second, "with a cloth");
    await correct(first, "with cotton");
    await synced(first.page);
    await second.context.unroute("**/v1/journal/entries*");
    await part(second.page, "server");
    await second.page.getByRole("button", { name: "Sync now" }).click();
    await second.page.waitForFunction(() => /refused 1 entry/.test(document.getElementById("server-now").textContent));
    await part(second.page, "journal");
    const refused = await text(second.page, "#entries .refused");
    assert.match(refused, /already corrected/);
    await second.page.locator("#entries .refused").getByRole("button", { name: "Delete it here" }).click();
    await second.page.waitForSelector("#entries .refused", { state: "detached" });
    assert.match(await text(second.page, "#entries"), /with cotton/);
    // a device that was taken out keeps what it has
    home.run("pair", "--revoke", "first");
    await wipe(first);
    await first.page.waitForFunction(() => /no longer paired/.test(document.getElementById("server-now").textContent));
    await part(first.page, "journal");
    assert.equal(await first.page.locator("#entries .entries > li").count(), 2);
    await part(first.page, "server");
    assert.match(await text(first.page, "#pairing"), /All entries are still here/);
    await first.page.fill("#pair-code", home.code());
    await first.page.getByRole("button", { name: "Pair this device" }).click();
    await synced(first.page);
    assert.equal(home.run("history", "entries").match(/wipe/gi).length, 2);
    await first.context.close();
    await second.context.close();
    home.end();
  },
};
