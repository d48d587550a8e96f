// Journeys through the page in real Chromium. Usage: node journeys.mjs PATH-OF-GUARDCELL [FOLDER-FOR-PICTURES]
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { mkdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { chromium } from "playwright-core";

const [program, pictures = "target/browser"] = process.argv.slice(2);
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
mkdirSync(pictures, { recursive: true });

const server = spawn(program, ["serve", "--bind", "127.0.0.1:0", "--log", "none"], { stdio: ["ignore", "ignore", "pipe"] });
const address = await new Promise((found, failed) => {
  let text = "";
  server.stderr.on("data", (chunk) => {
    text += chunk;
    const url = /http:\/\/[\d.:]+\//.exec(text);
    if (url) found(url[0]);
  });
  server.on("exit", (code) => failed(new Error(`the server ended with ${code}: ${text}`)));
});

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});
const wide = { viewport: { width: 1100, height: 900 }, locale: "en-GB", timezoneId: "Atlantic/Azores" };
const phone = { viewport: { width: 360, height: 740 }, isMobile: true, hasTouch: true, deviceScaleFactor: 2, locale: "en-GB", timezoneId: "Atlantic/Azores" };

async function open(options = wide, path = "") {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  page.setDefaultTimeout(60_000);
  const faults = [];
  page.on("pageerror", (e) => faults.push(String(e)));
  page.on("console", (m) => { if (m.type() === "error") faults.push(`${m.text()} ${m.location().url}`); });
  await page.goto(address + path);
  await page.waitForSelector("html[data-ready=yes]");
  return { context, page, faults };
}

async function example(page) {
  await page.click("#example");
  await page.waitForSelector("#ribbon .ribbon details");
  await page.waitForSelector("#sheet .bucket");
}

async function accessible(page, where) {
  await page.evaluate(axe);
  const { violations } = await page.evaluate(() => window.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }));
  const told = violations.map((v) => `${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)).join(" | ")}`);
  assert.deepEqual(told, [], `${where}: axe finds violations`);
}

const journeys = {
  async "a name is looked up by keyboard"() {
    const { page, faults, context } = await open();
    await page.focus("#name");
    await page.keyboard.type("cattl", { delay: 20 });
    await page.waitForSelector("#name-list [role=option]");
    await accessible(page, "the open list of names");
    await page.keyboard.press("ArrowDown");
    assert.equal(await page.getAttribute("#name-list [role=option]", "aria-selected"), "true");
    await page.keyboard.press("Enter");
    await page.waitForSelector("#taxon .says");
    assert.match(await page.textContent("#taxon h3"), /Cattleya/);
    assert.match(await page.textContent("#taxon"), /night/);
    await page.screenshot({ path: `${pictures}/name.png`, fullPage: true });
    assert.deepEqual(faults, []);
    await context.close();
  },
  async "a label becomes a recipe"() {
    const { page, faults, context } = await open(phone);
    const fill = (label, value) => page.getByLabel(label, { exact: true }).fill(value);
    await fill("Name of the product", "Example 13-2-13");
    await fill("Total N, %", "13");
    await fill("Nitrate N, %", "12,4");
    await fill("Ammoniacal N, %", "0.6");
    await fill("Phosphate P₂O₅, %", "2");
    await fill("Potash K₂O, %", "13");
    await fill("Calcium Ca, %", "6");
    await page.getByLabel("Derived from, one material a line").fill("potassium nitrate\ncalcium nitrate\nmonoammonium phosphate");
    await fill("Conductivity, µS/cm", "420");
    await fill("Hardness, with unit", "9 °dH");
    await page.getByRole("button", { name: "Work out what to weigh" }).click();
    await page.waitForSelector("#recipe .bucket");
    const text = await page.textContent("#recipe");
    assert.match(text, /0\.6 g Example 13-2-13 in 2 L/, text);
    assert.match(text, /ppm N/);
    await page.getByRole("button", { name: "Read the report" }).click();
    await page.waitForSelector("#water-answer dl");
    await accessible(page, "recipe and water");
    await page.locator("#feed").screenshot({ path: `${pictures}/recipe-phone.png` });
    // what was entered is still there after a visit elsewhere
    await page.goto("about:blank");
    await page.goto(address);
    await page.waitForSelector("html[data-ready=yes]");
    assert.equal(await page.getByLabel("Nitrate N, %", { exact: true }).inputValue(), "12.4");
    // a wrong figure is told in words, by field
    await page.getByLabel("Total N, %", { exact: true }).fill("130");
    await page.getByRole("button", { name: "Work out what to weigh" }).click();
    await page.waitForSelector("#feed-status.wrong");
    assert.match(await page.textContent("#feed-status"), /130/);
    assert.deepEqual(faults.filter((f) => !f.includes("422")), []);
    await context.close();
  },
  async "today's round is read and ticked"() {
    const { page, faults, context } = await open();
    await example(page);
    const first = page.locator("#ribbon .ribbon details").first();
    await first.locator("summary").focus();
    await page.keyboard.press("Enter");
    assert.ok(await first.locator(".why li").count() > 0, "no reasons");
    await accessible(page, "the day and the round");
    await page.screenshot({ path: `${pictures}/day.png`, fullPage: true });
    await page.locator("#day").screenshot({ path: `${pictures}/ribbon.png` });
    const box = page.locator("#sheet input[type=checkbox]").nth(1);
    await box.check();
    await page.reload();
    await page.waitForSelector("#sheet .bucket");
    assert.ok(await page.locator("#sheet input[type=checkbox]").nth(1).isChecked(), "the tick is lost");
    assert.deepEqual(faults, []);
    await context.close();
  },
  async "the round prints on one page"() {
    const { page, context } = await open();
    await example(page);
    await page.setViewportSize({ width: 711, height: 1040 });
    await page.emulateMedia({ media: "print" });
    await page.screenshot({ path: `${pictures}/print.png`, fullPage: true });
    await page.emulateMedia({ media: null });
    const pdf = await page.pdf({ path: `${pictures}/round.pdf`, preferCSSPageSize: true });
    const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g).length;
    assert.equal(pages, 1, `${pages} pages`);
    await context.close();
  },
  async "it fits a phone, in the dark"() {
    const { page, faults, context } = await open({ ...phone, colorScheme: "dark" });
    await example(page);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(over <= 0, `${over} px too wide`);
    await page.locator("#ribbon summary").first().tap();
    await accessible(page, "dark phone");
    await page.screenshot({ path: `${pictures}/phone-dark.png`, fullPage: true });
    await page.emulateMedia({ colorScheme: "light" });
    await accessible(page, "light phone");
    await page.locator("#day").screenshot({ path: `${pictures}/phone-ribbon.png` });
    assert.deepEqual(faults, []);
    await context.close();
  },
  async "what was entered travels in a link"() {
    const { page, context } = await open({ ...wide, permissions: ["clipboard-read", "clipboard-write"] });
    await example(page);
    await page.click("#share");
    await page.waitForFunction(() => /link|address/.test(document.getElementById("day-status").textContent));
    const link = page.url().includes("#with=") ? page.url() : await page.evaluate(() => navigator.clipboard.readText());
    assert.match(link, /#with=/);
    const other = await open(wide, link.slice(address.length));
    await other.page.waitForSelector("#ribbon .ribbon details");
    assert.equal(await other.page.getByLabel("Name of the product").inputValue(), "Fernhollow Mist 15-5-15");
    assert.ok(!other.page.url().includes("#with="), "the link stays in the address");
    await other.context.close();
    const broken = await open(wide, "#with=AAAA");
    assert.match(await broken.page.textContent("#day-status"), /damaged/);
    await broken.context.close();
    await context.close();
  },
  async "names are looked up without a connection"() {
    const { page, context } = await open();
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.waitForFunction(() => caches.open("guardcell-1").then((c) => c.keys()).then((k) => k.length >= 12));
    await context.setOffline(true);
    await page.reload();
    await page.waitForSelector("html[data-ready=yes]");
    assert.ok(await page.locator("#offline").isVisible());
    await page.fill("#name", "masdev");
    await page.waitForSelector("#name-list [role=option]");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    await page.waitForSelector("#taxon .says");
    assert.match(await page.textContent("#taxon"), /Masdevallia/);
    await page.screenshot({ path: `${pictures}/offline.png` });
    await context.close();
  },
};

let failed = 0;
for (const [name, run] of Object.entries(journeys)) {
  if (process.env.ONLY && !name.includes(process.env.ONLY)) continue;
  const started = Date.now();
  try {
    await run();
    console.log(`ok   ${name} (${((Date.now() - started) / 1000).toFixed(1)} s)`);
  } catch (error) {
    failed += 1;
    console.log(`FAIL ${name}\n${error.stack}`);
  }
}
await browser.close();
server.removeAllListeners("exit");
server.kill("SIGTERM");
process.exit(failed ? 1 : 0);
