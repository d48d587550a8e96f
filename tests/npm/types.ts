// What the compiler must accept, and what it must refuse.
import { load, GuardcellError, type AdviceRequest, type RoundResponse } from "guardcell";

const guardcell = await load();
const answer = guardcell.convert({ quantity: "120 ppm P2O5", to: "ppm P" });
const value: number = answer.value;
const same: number = guardcell.call("convert", { quantity: "300 ppm", to: "mg/L" }).value;

export function plan(request: AdviceRequest): RoundResponse {
  return guardcell.round(request);
}

// @ts-expect-error the request needs a unit to convert to
guardcell.convert({ quantity: "300 ppm" });
// @ts-expect-error no such field
guardcell.air({ temp_c: 20, rh_percent: 60, moon: 1 });
// @ts-expect-error humidity is a number
guardcell.air({ temp_c: 20, rh_percent: "damp" });

try {
  guardcell.air({ temp_c: 20, rh_percent: 140 });
} catch (error) {
  if (error instanceof GuardcellError) console.log(error.code, error.pointer, value === same);
}
