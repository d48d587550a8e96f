// The installed package: every example, every faulty request, and errors. Usage: check.mjs FAULTS
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { GuardcellError, load } from "guardcell";

const guardcell = await load();
assert.equal(await load(), guardcell, "it is loaded once");

for (const { name, example } of guardcell.calls) {
  const request = JSON.parse(example);
  assert.deepEqual(guardcell[name](request), guardcell.call(name, request), name);
  assert.deepEqual(JSON.parse(guardcell.text(name, example)), guardcell.call(name, request), name);
}

// 14 °dH is 14 × 10 mg/L of CaO (DIN 38409-6); CaCO3 weighs 100.087 / 56.077 of CaO.
const hard = guardcell.convert({ quantity: "14 °dH", to: "mg/L CaCO3" }).value;
assert.ok(Math.abs(hard - (140 * 100.087) / 56.077) < 0.1, `${hard}`);
assert.match(guardcell.draw("day_ribbon", JSON.parse(guardcell.calls.find((c) => c.name === "day_ribbon").example)), /^<svg/);

// One that is not UTF-8 cannot be sent as text.
const faults = readFileSync(process.argv[2], "utf8").trim().split("\n").map((line) => JSON.parse(line)).filter((f) => !f.body.includes("\ufffd"));
let [asked, wrong] = [0, []];
for (const fault of faults) {
  asked += 1;
  try {
    guardcell.text(fault.call, fault.body);
    wrong.push(`${fault.call}, ${fault.why}: answered`);
  } catch (error) {
    assert.ok(error instanceof GuardcellError && error instanceof Error, `${error}`);
    if (error.code !== fault.code || error.pointer !== fault.pointer)
      wrong.push(`${fault.call}, ${fault.why}: ${error.code} at ${error.pointer}, not ${fault.code} at ${fault.pointer}`);
    else assert.ok(error.message.includes(error.detail) && error.stack, fault.why);
  }
}
assert.deepEqual(wrong, []);
assert.ok(asked > 200, `${asked}`);
console.log(`npm: ${guardcell.calls.length} examples answered, ${asked} faulty requests refused as elsewhere`);
