// Journeys in which something is entered: by files, by hand, by keyboard alone, and wrongly.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { accessible, at, example, open, part, phone, pictures, program, ready, root, tabTo, text, wide } from "./harness.mjs";

const demo = `${root}/demo-data`;
const FILES = ["site.toml", "collection.csv", "conditions.csv", "water.toml", "labels/fernhollow-mist-15-5-15.toml"];

/** Chooses files as one does on a phone; each a path, or a name and a text. */
const choose = (page, id, list) => page.setInputFiles(`#${id} input[type=file]`, list.map((f) => (typeof f === "string" ? f : { name: f.name, mimeType: "text/plain", buffer: Buffer.from(f.text) })));

/** All of `part` is in `whole`, which may also say what is assumed where a file is silent. */
function holds(whole, part, at = "") {
  if (part === null || typeof part !== "object") { assert.deepEqual(whole, part, at); return; }
  if (Array.isArray(part)) assert.equal(whole.length, part.length, at);
  for (const [key, value] of Object.entries(part)) holds(whole[key], value, `${at}/${key}`);
}

export const entering = {
  async "the files of a collection give the same advice as on the command line"() {
    const { page, faults, context } = await open(wide);
    await part(page, "files");
    await choose(page, "house-files", FILES.map((f) => `${demo}/${f}`));
    await page.waitForFunction(() => /Loaded/.test(document.getElementById("files-status").textContent));
    assert.match(await page.textContent("#files-status"), /3 areas, 48 plants, \d{5} readings/);
    await at(page, "2026-06-21T12:00");
    const shown = await page.evaluate(() => JSON.parse(localStorage.getItem("guardcell-answer")).advice);
    const said = JSON.parse(execFileSync(program, ["advise", "--json", "--collection", `${demo}/collection.csv`, "--site", `${demo}/site.toml`, "--conditions", `${demo}/conditions.csv`, "--water", `${demo}/water.toml`, "--label", `${demo}/${FILES[4]}`, "--no-journal", "--at", "2026-06-21"], { maxBuffer: 1 << 26 }));
    // The page sends the readings that the window and the day after it need, not the whole year.
    const advised = ({ areas, ...rest }) => ({ ...rest, areas: areas.map(({ readings_until, ...area }) => area) });
    assert.deepEqual(advised(shown), advised(said));
    for (const area of shown.areas) assert.ok(Date.parse(area.readings_until) >= Date.parse(shown.to) + 24 * 3600e3, area.name);
    // a year of readings is kept on the device
    await page.reload();
    await ready(page);
    assert.match(await page.textContent("#air-now"), /\d{5} readings, Thu 1 Jan to/);
    assert.deepEqual(faults, []);
    await context.close();
  },
  async "files are read as their formats say"() {
    const { page, faults, context } = await open();
    // example.json was written from the same files by the TOML and CSV readers of Python
    const example = JSON.parse(readFileSync(`${root}/crates/server/page/example.json`, "utf8"));
    const ask = (name, file, source) => page.evaluate(async ([n, request]) => {
      try { return await (await import("/ask.js")).ask(n, request); } catch (error) { throw new Error((await import("/ask.js")).words(error)); }
    }, [name, { file, text: source }]);
    const file = (name) => readFileSync(`${demo}/${name}`, "utf8");
    holds(await ask("read_site", "site.toml", file(FILES[0])), example.site);
    holds(await ask("read_water", "water.toml", file(FILES[3])), example.water);
    holds((await ask("read_labels", "label.toml", file(FILES[4]))).labels, [example.feed]);
    holds((await ask("read_collection", "collection.csv", file(FILES[1]))).plants, example.plants);
    for (const bad of ["a = ", "a = 1\na = 2", "a = \"x", "a = 01", "= 1", "a = 1 b = 2", "[a", "a = [1", "a = yes", "a.b = 1\na = 2"]) {
      await assert.rejects(ask("read_site", "x.toml", bad), /x\.toml, line \d/, bad);
    }
    // RFC 4180, section 2: quoted fields hold commas, doubled quotes and line breaks
    const head = "id,name,area,setting,standing,notes";
    const csv = async (rows) => (await ask("read_collection", "x.csv", rows)).plants.map((p) => [p.name, p.notes]);
    assert.deepEqual(await csv(`${head}\r\n1,"x, y",a,mounted,ordinary,"say ""no"""\r\n2,Vanda,a,mounted,ordinary,"two\r\nlines"`), [["x, y", 'say "no"'], ["Vanda", "two\r\nlines"]]);
    // with semicolons a comma may mark decimals
    assert.deepEqual((await ask("read_collection", "x.csv", "id;name;area;setting;standing;pot_l\n1;Vanda, old;a;mounted;ordinary;1,5\n")).plants.map((p) => [p.name, p.pot_l]), [["Vanda, old", 1.5]]);
    const row = "1,Vanda,a,mounted,ordinary,";
    for (const [bad, why] of [[`${head},d\n${row},2`, /unknown column `d`/], ["id,name\n1,2", /`area` is missing/], [`${head}\n1`, /line 2: this row has 1 fields/], [`${head}\n`, /no rows/], [`${head}\n,Vanda,a,mounted,ordinary,`, /line 2: id: it is empty/]]) {
      await assert.rejects(csv(bad), why);
    }
    assert.deepEqual(faults.filter((f) => !f.includes("422")), []);
    await context.close();
  },
  async "a wrong file is reported by line and changes nothing"() {
    const { page, faults, context } = await open(phone, "#files");
    const head = "id,name,area,setting,standing\n";
    await choose(page, "house-files", [{ name: "mine.csv", text: `${head}A1,Cattleya labiata,here,mounted,established\n` }]);
    await page.waitForFunction(() => /Loaded 1 plant/.test(document.getElementById("files-status").textContent));
    for (const [name, body, why] of [
      ["a.csv", `${head}A1,Vanda,here,mountd,ordinary\n`, /line 2: setting: "mountd" is not known; write one of mounted/],
      ["b.csv", `${head}A1,Vanda,here,mounted,ordinary\nA1,Vanda,here,mounted,ordinary\n`, /line 3: id: duplicate id "A1"/],
      ["c.csv", "time,temp_c,rh_percent\n2026-06-21 06:00,21,80\n", /line 2, time/],
      ["d.csv", "time,temp_c,rh_percent\n2026-06-21T06:00:00Z,\"21,5\",80\n", /line 2: temp c: "21,5" has a decimal comma/],
      ["e.toml", "name = \"x\"\nareas = [\n", /e\.toml, line \d/],
      ["f.json", "{", /not JSON/],
      ["g.txt", "hello", /g\.txt/],
      ["g.odt", "hello", /not read here/],
      ["h.json", "{\"areas\": 3}", /right form/],
    ]) {
      await choose(page, "house-files", [{ name, text: body }]);
      await page.waitForSelector("#files-status.wrong");
      assert.match(await text(page, "#files-status"), why);
      assert.equal(await page.locator("#plants-form details.item").count(), 1, name);
    }
    await accessible(page, "a fault of a file");
    // a refusal of the server is an error in the console of a browser
    assert.deepEqual(faults.filter((f) => !f.includes("422")), []);
    await context.close();
  },
  async "the table of a logger is read without a map, and by one"() {
    const { page, faults, context } = await open(phone, "#files");
    const said = async (pattern) => { await page.waitForFunction((p) => new RegExp(p).test(document.getElementById("files-status").textContent), pattern); return text(page, "#files-status"); };
    const rows = ["21.06.2026 05:00;64,4;88", "21.06.2026 06:00;66,2;85"].join("\n");
    await choose(page, "house-files", [{ name: "export.csv", text: `Logger 7;;\nTime;Temperature °F;RH %\n${rows}\n` }]);
    assert.match(await said("Loaded 2 readings"), /no map: “Temperature °F” was taken for the temperature in °F/);
    // (64.4 - 32) / 1.8 = 18
    assert.equal(await page.evaluate(async () => (await import("/keep.js")).state.readings[0].temp_c), 18);
    // day and month that cannot be told apart are not guessed
    await choose(page, "house-files", [{ name: "us.csv", text: "Date,Temp (C),Humidity\n05/06/2026 05:00,18,88\n05/06/2026 06:00,18,88\n" }]);
    await said("choose its map");
    await page.setInputFiles("#house-files input[type=file]", [`${demo}/logger/logger.toml`, `${demo}/logger/logger.csv`]);
    await said("Loaded \\d{2,} readings");
    // files are dropped anywhere
    await page.evaluate(() => { const data = new DataTransfer(); data.items.add(new File(["id;name;area;setting;standing;pot_l\nA1;Vanda, old;here;potted;ordinary;1,5\n"], "mine.csv")); document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true })); });
    await said("Loaded 1 plant");
    assert.deepEqual(faults.filter((f) => !f.includes("422")), []);
    await context.close();
  },
  async "everything is entered by keyboard alone"() {
    const { page, faults, context } = await open();
    const key = (k) => page.keyboard.press(k);
    const write = async (label, words) => { await tabTo(page, label); await key("Control+a"); await page.keyboard.type(words); };
    await tabTo(page, "House");
    await key("Enter");
    await tabTo(page, "Place and areas");
    await key("Enter");
    await write("Latitude", "51.5");
    await write("Longitude", "-0.1");
    await write("Time zone", "Europe/London");
    await tabTo(page, "Add an area");
    await key("Enter");
    // the name of the new area has the focus
    await page.keyboard.type("Spare room");
    await tabTo(page, "Light");
    await page.keyboard.type("lamps");
    await key("Tab");
    await page.waitForFunction(() => document.querySelectorAll("#place-form .run").length > 0);
    await tabTo(page, "Plants");
    await key("Enter");
    await tabTo(page, "Add a plant");
    await key("Enter");
    await page.keyboard.type("Phalaenopsis amabilis");
    await tabTo(page, "Area");
    await page.keyboard.type("Spare");
    await tabTo(page, "Standing");
    await page.keyboard.type("est");
    await tabTo(page, "Growth");
    await page.keyboard.type("grow");
    assert.match(await page.textContent("#plants-form .item > summary"), /Phalaenopsis amabilis.*Spare room.*established/);
    await tabTo(page, "Today");
    await key("Enter");
    await tabTo(page, "Air");
    await key("Enter");
    await tabTo(page, "Where");
    await page.keyboard.type("Spare");
    await write("Temperature", "21,5");
    await write("Humidity", "75");
    await key("Enter");
    await page.waitForFunction(() => /Spare room 21.5/.test(document.getElementById("air-now").textContent));
    await tabTo(page, "Ask again");
    await key("Enter");
    await page.waitForSelector("#ribbon .ribbon details", { state: "attached" });
    assert.match(await text(page, "#ribbon"), /Phalaenopsis amabilis/);
    await page.screenshot({ path: `${pictures}/by-hand.png`, fullPage: true });
    assert.deepEqual(faults, []);
    await context.close();
  },
  async "areas and plants are changed and removed"() {
    const { page, faults, context } = await open(phone);
    await example(page);
    await part(page, "place");
    const house = page.locator('#place-form [data-area="house"]');
    await house.locator("summary").tap();
    // an area with plants stays
    await house.getByRole("button", { name: "Remove this area" }).tap();
    assert.match(await page.textContent("#place-status"), /move them to another area first/);
    // its short name is that of its plants and readings, and of no other area
    const short = house.getByLabel("Short name, as in your files");
    await short.fill("trees");
    await short.blur();
    assert.match(await page.textContent("#place-status"), /another area already/);
    await page.locator('#place-form [data-area="house"]').getByLabel("Short name, as in your files").fill("glass");
    await page.locator('#place-form [data-area="house"]').getByLabel("Short name, as in your files").blur();
    await page.locator('#place-form [data-area="glass"]').waitFor();
    const moved = await page.evaluate(async () => { const { state } = await import("/keep.js"); return [state.plants, state.readings].map((l) => [l.filter((x) => x.area === "glass").length, l.filter((x) => x.area === "house").length]); });
    assert.ok(moved.every(([now, before]) => now > 20 && before === 0), JSON.stringify(moved));
    await part(page, "today");
    await page.click("#ask");
    await page.waitForFunction(() => /may be fed/.test(document.getElementById("day-status").textContent));
    // an empty area goes and comes back
    await part(page, "place");
    await page.getByRole("button", { name: "Add an area" }).tap();
    const areas = page.locator("#place-form [data-area]");
    assert.equal(await areas.count(), 4);
    await areas.nth(3).getByRole("button", { name: "Remove this area" }).tap();
    assert.equal(await areas.count(), 3);
    await page.getByRole("button", { name: "Put back what was here" }).tap();
    await areas.nth(3).waitFor();
    // so does a plant
    await part(page, "plants");
    await page.fill("#find-plant", "vanda");
    await page.locator("#plants-form details.item:not([hidden]) summary").first().tap();
    await page.locator("#plants-form details.item[open]").getByText("Change this plant").tap();
    await page.locator("#plants-form details.item[open]").getByRole("button", { name: "Remove this plant" }).tap();
    const left = (n) => page.waitForFunction((many) => document.querySelectorAll("#plants-form details.item").length === many, n);
    await left(47);
    await page.getByRole("button", { name: "Put back what was here" }).tap();
    await left(48);
    const [file] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Save the list as CSV" }).tap()]);
    assert.match(readFileSync(await file.path(), "utf8"), /^id,name,area,[^\n]*\nFH-001,Cattleya labiata,glass,/);
    // what is forgotten for good leaves nothing on the device, and an answer that is still worked out
    // brings nothing back
    await part(page, "device");
    await page.evaluate(() => { for (const id of ["ask", "forget"]) document.getElementById(id).click(); });
    await page.getByRole("button", { name: "Keep it so" }).tap();
    await page.waitForTimeout(3000);
    const stored = await page.evaluate(() => Object.keys(localStorage).map((k) => localStorage.getItem(k)).join());
    assert.doesNotMatch(stored, /Fernhollow|Cattleya|38\.5/);
    assert.deepEqual(faults, []);
    await context.close();
  },
  async "a reading that is too old is not used in silence"() {
    const { page, context } = await open(wide, "#today");
    await page.evaluate(async () => {
      const { state, saveAir } = await import("/keep.js");
      Object.assign(state.site, { latitude_deg: 51.5, longitude_deg: -0.1, time_zone: "Europe/London" });
      state.plants.push({ id: "P01", name: "Vanda coerulea", area: "here", setting: "basket", standing: "ordinary" });
      state.readings = [{ time: new Date(Date.now() - 12 * 36e5).toISOString().slice(0, 19) + "Z", temp_c: 21, rh_percent: 70 }];
      saveAir();
    });
    await page.reload();
    await ready(page);
    await page.waitForSelector("#day-status.wrong");
    assert.match(await text(page, "#day-status"), /no older than \d+ h/);
    await context.close();
  },
};
