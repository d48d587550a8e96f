// Makes docs/page.webp, the picture of the page in README.md, from the demo data:
//   SCRIPT=picture.mjs tests/browser/run.sh
import { writeFileSync } from "node:fs";
import { example, finish, open, part, phone, root } from "./harness.mjs";

const screen = { ...phone, viewport: { width: 360, height: 860 }, deviceScaleFactor: 1.25 };
const shots = [];

async function shot(colorScheme, go) {
  const { page, context } = await open({ ...screen, colorScheme });
  await example(page);
  await go(page);
  await page.evaluate(() => document.activeElement.blur());
  shots.push((await page.screenshot()).toString("base64"));
  await context.close();
}

await shot("light", async (page) => { await part(page, "today"); await page.evaluate(() => scrollTo(0, 0)); });
await shot("light", async (page) => {
  await part(page, "day");
  const row = page.locator("#ribbon .ribbon > li > details", { hasText: "Laelia anceps" }).first();
  await row.evaluate((n) => { n.open = true; });
  await row.evaluate((n) => scrollTo(0, n.getBoundingClientRect().top + scrollY - 12));
});
await shot("dark", async (page) => {
  await part(page, "round");
  for (const i of [0, 1, 2]) await page.locator("#sheet input[type=checkbox]").nth(i).check();
  await page.evaluate(() => scrollTo(0, 0));
});

const { page } = await open({ viewport: { width: 400, height: 300 } });
const webp = await page.evaluate(async (list) => {
  const images = await Promise.all(list.map(async (b) => createImageBitmap(new Blob([Uint8Array.from(atob(b), (c) => c.charCodeAt(0))]))));
  const gap = 24;
  const canvas = Object.assign(document.createElement("canvas"), { width: images.reduce((w, i) => w + i.width + gap, gap), height: images[0].height + 2 * gap });
  const paint = canvas.getContext("2d");
  paint.fillStyle = "#8a9788";
  paint.fillRect(0, 0, canvas.width, canvas.height);
  let x = gap;
  for (const image of images) {
    paint.save();
    paint.beginPath();
    paint.roundRect(x, gap, image.width, image.height, 20);
    paint.clip();
    paint.drawImage(image, x, gap);
    paint.restore();
    x += image.width + gap;
  }
  return canvas.toDataURL("image/webp", 0.78).split(",")[1];
}, shots);
const bytes = Buffer.from(webp, "base64");
writeFileSync(`${root}/docs/page.webp`, bytes);
console.log(`docs/page.webp: ${Math.round(bytes.length / 1000)} kB`);
await finish(bytes.length > 150_000 ? 1 : 0);
