// The sheet on paper: every line whole, on A4.
import assert from "node:assert/strict";
import { inflateSync } from "node:zlib";
import { example, open, part, pictures, ready, wide } from "./harness.mjs";

const [HEIGHT, MARGIN] = [842, 10 / 25.4 * 72];

/** Where each text of each page stands: the base line and the size, in points from the lower edge. */
function texts(pdf) {
  const file = pdf.toString("latin1");
  const pages = [];
  for (const m of file.matchAll(/\/FlateDecode[^]*?stream\r?\n/g)) {
    const start = m.index + m[0].length;
    let body;
    try { body = inflateSync(pdf.subarray(start, file.indexOf("endstream", start))).toString("latin1"); } catch { continue; }
    if (!/\bBT\b/.test(body)) continue;
    pages.push(positions(body));
  }
  return pages;
}

const times = ([a, b, c, d, e, f], [g, h, i, j, k, l]) => [a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + l];

function positions(body) {
  const out = [];
  let [now, text, size] = [[1, 0, 0, 1, 0, 0], [1, 0, 0, 1, 0, 0], 1];
  const kept = [];
  let numbers = [];
  for (const [word] of body.matchAll(/<[\da-f]*>|\((?:\\.|[^\\)])*\)|[^\s<>()[\]]+/gi)) {
    if (/^[+-]?[\d.]+$/.test(word)) { numbers.push(Number(word)); continue; }
    if (word === "q") kept.push(now);
    else if (word === "Q") now = kept.pop() ?? now;
    else if (word === "cm") now = times(numbers.slice(-6), now);
    else if (word === "Tm") text = numbers.slice(-6);
    else if (word === "Td") text = times([1, 0, 0, 1, ...numbers.slice(-2)], text);
    else if (word === "Tf") size = numbers.at(-1);
    else if (word === "Tj" || word === "TJ") { const at = times(text, now); out.push({ y: at[5], size: size * Math.hypot(at[2], at[3]) }); }
    if (!/^[<(/]/.test(word)) numbers = [];
  }
  return out;
}

export const printing = {
  async "the round prints on A4 without a cut line, for 48 and for 120 plants"() {
    const { page, context } = await open(wide);
    await example(page);
    for (const plants of [48, 120]) {
      if (plants > 48) {
        await page.evaluate(async (n) => {
          const { state, save } = await import("/keep.js");
          const own = state.plants;
          state.plants = Array.from({ length: n }, (_, i) => ({ ...own[i % own.length], id: `P${i}` }));
          save();
        }, plants);
        await page.reload();
        await ready(page);
        await page.click("#ask");
        await page.waitForFunction((n) => new RegExp(`of ${n} plants may be fed`).test(document.getElementById("day-status").textContent), plants);
      }
      await page.evaluate(() => { window.openThen = 0; addEventListener("beforeprint", () => { window.openThen = document.querySelectorAll("details.sitting:not([open])").length === 0 ? 1 : 2; }); });
      const pdf = await page.pdf({ path: `${pictures}/round-${plants}.pdf`, preferCSSPageSize: true });
      assert.equal(await page.evaluate(() => window.openThen), 1, "a part of the sheet stays closed on paper");
      const pages = texts(pdf);
      const count = pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g).length;
      assert.equal(pages.length, count, "every page has text");
      assert.ok(count <= (plants === 48 ? 1 : 3), `${count} pages for ${plants} plants`);
      const lines = pages.flat();
      assert.ok(lines.length > plants, `${lines.length} texts`);
      for (const { y, size } of lines) {
        assert.ok(size > 4 && size < 20, `letters of ${size} pt`);
        // a line that a page cuts is drawn on both, past the margin of one
        assert.ok(y >= MARGIN - 0.5 && y + 0.6 * size <= HEIGHT - MARGIN + 0.5, `a line at ${y.toFixed(1)} pt of ${size} pt is cut`);
      }
      console.log(`     ${plants} plants: ${count} pages, ${lines.length} texts`);
    }
    // with the day open it is still the sheet alone
    await part(page, "day");
    await context.close();
  },
};
