// Files of this device: plants, readings, place, label or water, told apart by what they hold.
import { Fault } from "./ask.js";
import { table } from "./csv.js";
import { readingsFrom } from "./keep.js";
import { count } from "./make.js";
import { toml } from "./toml.js";

export const ACCEPT = ".csv,.toml,.json,text/csv,application/json";
export const CHOICES = {
  setting: ["mounted", "basket", "potted", "landscape"],
  standing: ["established", "ordinary", "seedling", "weak", "rootless"],
  size: ["small", "medium", "large", "specimen"],
  growth: ["active", "resting", "unknown"],
  leaf: ["thin", "intermediate", "thick", "terete", "leafless"],
};
export const PLANT_COLUMNS = ["id", "name", "area", "setting", "standing", "size", "growth", "leaf", "leaf_area_cm2", "last_fed", "last_flush", "pot_l", "root_feed_mg_week", "bench", "notes"];

function plantsFrom(text, file) {
  const seen = new Set();
  return table(text, file, PLANT_COLUMNS.slice(0, 5), PLANT_COLUMNS.slice(5)).map((row) => {
    const plant = {};
    for (const key of PLANT_COLUMNS) plant[key] = key in CHOICES ? row.word(key, CHOICES[key]) : /_(cm2|l|week)$/.test(key) ? row.number(key) : row.text(key);
    for (const key of PLANT_COLUMNS.slice(0, 5)) row.needed(key);
    if (seen.has(plant.id)) throw row.fault("id", `duplicate id "${plant.id}"`, "give each plant its own id");
    seen.add(plant.id);
    return JSON.parse(JSON.stringify(plant));
  });
}

function recognised(name, text) {
  if (/\.csv$/i.test(name)) {
    const head = text.split(/\r?\n/, 1)[0];
    if (/temp_c/.test(head)) return { readings: readingsFrom(text, name), series: true };
    if (/setting|standing/.test(head)) return { plants: plantsFrom(text, name) };
    throw new Fault(`${name}: neither plants (columns id, name, area, setting, standing) nor readings (columns time, temp_c, rh_percent)`);
  }
  let value;
  if (/\.json$/i.test(name)) {
    try { value = JSON.parse(text); } catch (error) { throw new Fault(`${name}: this is not JSON (${error.message})`); }
  } else if (/\.toml$/i.test(name)) value = toml(text, name);
  else throw new Fault(`${name}: this kind of file is not read here; give CSV for plants and readings, TOML or JSON for a place, a label or a water`);
  if (typeof value !== "object" || value === null || Array.isArray(value)) throw new Fault(`${name}: neither a place, a label nor a water`);
  if ("site" in value && "areas" in value.site) return value;
  if (value.areas) return { site: value };
  if (value.guaranteed) return { feed: value };
  if (["ec", "ph", "hardness", "alkalinity"].some((k) => k in value) || Object.keys(value).some((k) => /_(mg_l|us_cm|caco3)$/.test(k))) return { water: value };
  throw new Fault(`${name}: neither a place (with areas), a label (with guaranteed) nor a water`);
}

/** What the files hold, and that in words. */
export function loaded(list) {
  const values = Object.assign({}, ...list.map((f) => recognised(f.name, f.text)));
  const said = [
    values.site && `the place ${values.site.name ?? ""} with ${count(values.site.areas.length, "area")}`,
    values.plants && count(values.plants.length, "plant"),
    values.readings && count(values.readings.length, "reading"),
    values.feed && `the label ${values.feed.name ?? ""}`,
    values.water && `the water ${values.water.name ?? ""}`,
  ].filter(Boolean);
  return { values, said: `Loaded ${said.join(", ")}.` };
}
