// Journeys through the page in real Chromium.
// Usage: node journeys.mjs PATH-OF-GUARDCELL [FOLDER-FOR-PICTURES] [ROOT-OF-THE-PROJECT]
import assert from "node:assert/strict";
import { accessible, address, example, kept, open, part, PARTS, phone, pictures, ready, roomy, run, text, wide } from "./harness.mjs";
import { entering } from "./entering.mjs";
import { keeping } from "./keeping.mjs";
import { killing } from "./killing.mjs";
import { printing } from "./printing.mjs";
import { recording } from "./recording.mjs";

const reading = {
  async "a name is looked up by keyboard"() {
    const { page, faults, context } = await open(wide, "#names");
    await page.focus("#name");
    await page.keyboard.type("cattl", { delay: 20 });
    await page.waitForSelector("#name-list [role=option]");
    await accessible(page, "the open list of names");
    await page.keyboard.press("ArrowDown");
    assert.equal(await page.getAttribute("#name-list [role=option]", "aria-selected"), "true");
    await page.keyboard.press("Enter");
    await page.waitForSelector("#taxon .message");
    assert.match(await page.textContent("#taxon h3"), /Cattleya/);
    assert.match(await page.textContent("#taxon"), /night/);
    await page.screenshot({ path: `${pictures}/name.png`, fullPage: true });
    await page.getByRole("button", { name: "Add it to my plants" }).click();
    await page.waitForSelector("#plants-form details.item[open]");
    assert.match(await page.textContent("#plants-form details.item[open] > summary"), /^Cattleya/);
    assert.deepEqual(faults, []);
    await context.close();
  },
  async "a label becomes a recipe"() {
    const { page, faults, context } = await open(phone);
    const fill = (label, value) => page.getByLabel(label, { exact: true }).fill(value);
    await part(page, "water");
    await fill("Conductivity, with unit", "420 µS/cm");
    await fill("Hardness, with unit", "9 °dH");
    await part(page, "feed");
    await fill("Name of the product", "Example 13-2-13");
    await fill("Total N, %", "13");
    await fill("Nitrate N, %", "12,4");
    await fill("Ammoniacal N, %", "0.6");
    await fill("Phosphate P₂O₅, %", "2");
    await fill("Potash K₂O, %", "13");
    await fill("Calcium Ca, %", "6");
    await page.getByLabel("Derived from, one material a line").fill("potassium nitrate\ncalcium nitrate\nmonoammonium phosphate");
    await page.getByRole("button", { name: "Work out what to weigh" }).click();
    await page.waitForSelector("#recipe .bucket");
    const said = await text(page, "#recipe");
    assert.match(said, /0\.6 g Example 13-2-13 in 2 L/, said);
    assert.match(said, /ppm N/);
    await accessible(page, "recipe");
    await page.screenshot({ path: `${pictures}/recipe-phone.png`, fullPage: true });
    await part(page, "water");
    await page.getByRole("button", { name: "Read the report" }).click();
    await page.waitForSelector("#water-answer dl");
    await accessible(page, "water");
    // what was entered is still there after a visit elsewhere
    await page.goto("about:blank");
    await page.goto(`${address}#feed`);
    await ready(page);
    assert.equal(await page.getByLabel("Nitrate N, %", { exact: true }).inputValue(), "12.4");
    // a wrong figure is reported in words, by field
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
    await part(page, "day");
    const first = page.locator("#ribbon .ribbon details").first();
    await first.locator("summary").first().focus();
    await page.keyboard.press("Enter");
    assert.ok(await first.locator(".why li").count() > 0, "no reasons");
    await accessible(page, "the day");
    await page.screenshot({ path: `${pictures}/day.png`, fullPage: true });
    await part(page, "round");
    await accessible(page, "the round");
    const sheet = await text(page, "#sheet");
    assert.doesNotMatch(sheet, /undefined|NaN|\[object|null/);
    const box = page.locator("#sheet input[type=checkbox]").nth(1);
    await box.check();
    assert.match(await page.textContent("#round-status"), /^1 of/);
    await page.screenshot({ path: `${pictures}/round.png`, fullPage: true });
    await page.reload();
    await page.waitForSelector("#sheet .bucket");
    assert.ok(await page.locator("#sheet input[type=checkbox]").nth(1).isChecked(), "the tick is lost");
    assert.deepEqual(faults, []);
    await context.close();
  },
  async "every part fits a phone, by day and in the dark"() {
    for (const colorScheme of ["dark", "light"]) {
      // the other colours change contrasts alone
      const rules = colorScheme === "dark" ? undefined : ["color-contrast"];
      const picture = (page, name) => page.screenshot({ path: `${pictures}/phone-${colorScheme}-${name}.png`, fullPage: true, scale: "css" });
      const { page, faults, context } = await open({ ...phone, colorScheme });
      await accessible(page, `empty, ${colorScheme}`, rules);
      await roomy(page, "empty");
      await example(page);
      await page.locator("#ribbon .ribbon summary").first().tap();
      // every part of a tab stays open while the tab is looked at
      for (const tab of new Set(Object.values(PARTS))) {
        for (const name of Object.keys(PARTS).filter((n) => PARTS[n] === tab)) {
          await part(page, name);
          if (name === "picture") await page.waitForSelector("#drawn svg");
        }
        await accessible(page, `${tab}, ${colorScheme}`, rules);
        await roomy(page, tab);
        assert.doesNotMatch(await text(page, `#${tab}`), /undefined|NaN|\[object/, tab);
        await picture(page, tab);
      }
      // the forms of one area and of one plant, and the sheet of an entry
      await part(page, "place");
      await page.locator("#place details.item summary").nth(1).tap();
      await page.locator("#place details.item[open]").waitFor();
      await roomy(page, "an area");
      await part(page, "plants");
      await page.locator("#plants-form .area summary").first().tap();
      await page.locator("#plants-form .area details.item summary").first().tap();
      await page.locator("#plants-form details.item[open]").getByText("Change this plant").tap();
      await page.waitForFunction(() => [...document.querySelectorAll("#plants-form details.item[open] .help")].some((n) => /Opens/.test(n.textContent)));
      await accessible(page, `a plant, ${colorScheme}`, rules);
      await roomy(page, "a plant");
      await page.screenshot({ path: `${pictures}/phone-${colorScheme}-plant.png` });
      await part(page, "today");
      await page.tap("#record");
      await page.getByRole("button", { name: "Look for white" }).tap();
      await accessible(page, `a look, ${colorScheme}`, rules);
      await roomy(page, "a look");
      await page.keyboard.press("Escape");
      assert.deepEqual(faults, []);
      await context.close();
    }
  },
  async "what was entered travels in a link"() {
    const permissions = ["clipboard-read", "clipboard-write"];
    const { page, faults, context } = await open({ ...wide, permissions });
    const copied = async (status) => {
      await page.waitForFunction((id) => /link/.test(document.getElementById(id).textContent), status);
      const link = page.url().includes("#with=") ? page.url() : await page.evaluate(() => navigator.clipboard.readText());
      assert.match(link, /#with=/);
      return link.slice(address.length);
    };
    await example(page);
    await part(page, "device");
    await page.click("#share");
    const other = await open(wide, await copied("device-status"));
    await other.page.waitForSelector("#ribbon .ribbon details", { state: "attached" });
    assert.equal(await other.page.locator("#feed-form input").first().inputValue(), "Fernhollow Mist 15-5-15");
    assert.ok(!other.page.url().includes("#with="), "the link stays in the address");
    assert.deepEqual(other.faults, []);
    // a link with the label and the water alone leaves the plants, and can be taken back
    await part(page, "feed");
    await page.getByLabel("Name of the product", { exact: true }).fill("Example 10-10-10");
    await page.click("#share-feed");
    const label = await copied("feed-status");
    await other.page.goto("about:blank");
    await other.page.goto(address + label);
    await ready(other.page);
    const product = () => other.page.locator("#feed-form input").first().inputValue();
    assert.equal(await product(), "Example 10-10-10");
    assert.equal(await other.page.locator("#plants-form details.item").count(), 48);
    await other.context.close();
    for (const damaged of ["#with=AAAA", "#with=%%%", `#with=${"A".repeat(4000)}`]) {
      const broken = await open(wide, damaged);
      assert.match(await broken.page.textContent("#day-status"), /damaged/);
      assert.deepEqual(broken.faults, []);
      await broken.context.close();
    }
    assert.deepEqual(faults, []);
    await context.close();
  },
  async "names and the last round are read without a connection"() {
    const { page, context } = await open(phone);
    await example(page);
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.waitForFunction(kept);
    await context.setOffline(true);
    await page.reload();
    await ready(page);
    await page.locator("#offline").waitFor();
    await page.waitForSelector("#ribbon .ribbon details", { state: "attached" });
    await part(page, "round");
    await page.locator("#sheet .bucket input").check();
    await part(page, "names");
    await page.fill("#name", "masdev");
    await page.waitForSelector("#name-list [role=option]");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    await page.waitForSelector("#taxon .message");
    assert.match(await page.textContent("#taxon"), /Masdevallia/);
    await page.screenshot({ path: `${pictures}/offline.png` });
    // a new answer is not available, and the old one stays
    await part(page, "today");
    await page.click("#ask");
    await page.waitForSelector("#day-status.wrong");
    assert.match(await page.textContent("#day-status"), /cannot be reached/);
    assert.ok(await page.locator("#ribbon .ribbon details").count() > 0);
    await context.close();
    // over plain http from another machine no worker runs: the open page still finds names
    const plain = await open({ ...phone, serviceWorkers: "block" }, "#names");
    await plain.page.waitForResponse((r) => r.url().endsWith("v1/catalogue"));
    await plain.context.setOffline(true);
    await plain.page.fill("#name", "dendrob");
    await plain.page.waitForSelector("#name-list [role=option]");
    assert.match(await plain.page.textContent("#name-list"), /Dendrobium/);
    await plain.page.locator("#offline").waitFor();
    await plain.context.close();
  },
};

await run({ ...reading, ...entering, ...recording, ...keeping, ...killing, ...printing });
