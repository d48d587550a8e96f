// A server, a real Chromium, and what every journey checks: no fault in the console, nothing asked
// of any other host, no violation of accessibility rules.
import assert from "node:assert/strict";
import { mkdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { chromium } from "playwright-core";
import { serve } from "./server.mjs";

export const [program, pictures = "target/browser", root = "."] = process.argv.slice(2);
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
mkdirSync(pictures, { recursive: true });

const server = await serve(program);
export const { address } = server;

export const CHROMIUM = process.env.CHROMIUM ?? "/usr/bin/chromium";
export const FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];
const browser = await chromium.launch({ executablePath: CHROMIUM, args: FLAGS });
const azores = { locale: "en-GB", timezoneId: "Atlantic/Azores" };
export const wide = { viewport: { width: 1100, height: 900 }, ...azores };
export const phone = { viewport: { width: 360, height: 740 }, isMobile: true, hasTouch: true, deviceScaleFactor: 2, ...azores };
/** Parts of the page and the tab that each is in. */
export const PARTS = { today: "today", air: "today", day: "today", picture: "today", round: "round", plants: "plants", journal: "plants", names: "plants", house: "house", server: "house", place: "house", feed: "house", water: "house", files: "house", copies: "house", device: "house" };

export async function open(options = wide, path = "", base = address) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  page.setDefaultTimeout(60_000);
  const faults = [];
  page.on("pageerror", (e) => faults.push(String(e)));
  page.on("console", (m) => { if (m.type() === "error") faults.push(`${m.text()} ${m.location().url}`); });
  context.on("request", (r) => { if (!r.url().startsWith(base) && !/^(blob|data|about):/.test(r.url())) faults.push(`asked elsewhere: ${r.url()}`); });
  await page.goto(base + path);
  await ready(page);
  return { context, page, faults };
}

export const ready = (page) => page.waitForSelector("html[data-ready=yes]");

/** In the page: whether its worker has kept every file. */
export const kept = async () => {
  const names = (await caches.keys()).filter((k) => k.startsWith("guardcell-"));
  if (names.length !== 1) return false;
  return (await (await caches.open(names[0])).keys()).length >= 24;
};

/** Goes to a part of the page by its tab, and opens it there. */
export async function part(page, name) {
  const tab = PARTS[name];
  await page.locator(`nav a[href="#${tab}"]`).click();
  await page.locator(`#${tab}`).waitFor();
  if (tab === name) return;
  const box = page.locator(`#${name}`);
  if (!await box.evaluate((d) => d.open)) await box.locator("> summary").click();
}

export async function example(page) {
  await part(page, "device");
  await page.click("#example");
  await page.waitForSelector("#ribbon .ribbon details", { state: "attached" });
  await page.waitForSelector("#sheet .bucket", { state: "attached" });
  await part(page, "day");
}

/** Asks for another time. */
export async function at(page, time) {
  await part(page, "today");
  const box = page.locator("#today details.item").last();
  if (!await box.evaluate((d) => d.open)) await box.locator("> summary").click();
  await page.fill("#at", time);
  await page.locator("#at").blur();
  await page.waitForFunction(() => /may be fed/.test(document.getElementById("day-status").textContent) && !document.getElementById("ask").disabled);
}

/** Text with plain spaces. */
export const text = async (page, selector) => (await page.textContent(selector)).replaceAll("\u00a0", " ");

/** No rule of accessibility is broken; `rules` names the few that are asked where the others were. */
export async function accessible(page, where, rules) {
  await page.evaluate(axe);
  const runOnly = rules ?? ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
  const { violations } = await page.evaluate((only) => window.axe.run(document, { runOnly: only, resultTypes: ["violations"] }), runOnly);
  const told = violations.map((v) => `${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)).join(" | ")}`);
  assert.deepEqual(told, [], `${where}: axe finds violations`);
}

/** Nothing wider than the screen, and nothing to press smaller than 44 CSS pixels (WCAG 2.2, 2.5.5). */
export async function roomy(page, where) {
  const found = await page.evaluate(() => {
    const out = [];
    if (document.documentElement.scrollWidth > screen.width) out.push(`${document.documentElement.scrollWidth} px wide`);
    const shown = (n) => n.checkVisibility() && n.getClientRects().length > 0;
    for (const n of document.querySelectorAll("button, nav a, summary, input, select, textarea, .button, .ticks label, .tick")) {
      if (!shown(n) || n.closest(".skip, .said") || n.type === "file") continue;
      const box = (n.type === "checkbox" ? n.closest("label") : n).getBoundingClientRect();
      if (box.height < 44 || box.width < 44) out.push(`${n.outerHTML.slice(0, 90)}: ${Math.round(box.width)} × ${Math.round(box.height)}`);
    }
    return out.slice(0, 5);
  });
  assert.deepEqual(found, [], where);
}

/** Presses Tab until what has the focus bears this name, as one without a mouse does. */
export async function tabTo(page, name, most = 150) {
  for (let i = 0; i < most; i += 1) {
    await page.keyboard.press("Tab");
    const now = await page.evaluate(() => {
      const n = document.activeElement;
      return (n.labels?.[0]?.textContent || n.getAttribute("aria-label") || n.textContent || "").trim();
    });
    if (now.startsWith(name)) return;
  }
  assert.fail(`"${name}" is not reached by Tab`);
}

/** Runs the journeys; ONLY picks those whose name holds it. Ends the process: 1 where one failed. */
export async function run(journeys) {
  let failed = 0;
  for (const [name, journey] of Object.entries(journeys)) {
    if (process.env.ONLY && !name.includes(process.env.ONLY)) continue;
    const started = Date.now();
    try {
      await journey();
      console.log(`ok   ${name} (${((Date.now() - started) / 1000).toFixed(1)} s)`);
    } catch (error) {
      failed += 1;
      console.log(`FAIL ${name}\n${error.stack}`);
    }
  }
  await finish(failed ? 1 : 0);
}

export async function finish(code) {
  await browser.close();
  server.stop();
  process.exit(code);
}
