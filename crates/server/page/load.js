// Files of this device: plants, readings, place, label or water, told apart by what they hold and read
// as on the command line.
import { ask } from "./ask.js";
import { Fault } from "./fault.js";
import { state } from "./keep.js";
import { count } from "./make.js";

export const ACCEPT = ".csv,.toml,.json,.jsonl,.txt,text/csv,text/plain,application/json";

const ending = (name) => /\.([a-z]+)$/i.exec(name)?.[1].toLowerCase() ?? "";
const isMap = ({ name, text }) => ending(name) === "toml" && /^\s*source\s*=/m.test(text);

/** What a file holds that its first line or its keys show; undefined for what may be a logger's. */
function kind(name, text) {
  if (ending(name) === "csv") {
    const [head] = text.split(/\r?\n/, 1);
    if (/\btemp_c\b/.test(head)) return "read_readings";
    if (/\b(setting|standing)\b/.test(head)) return "read_collection";
    return /_percent\b/.test(head) ? "read_labels" : undefined;
  }
  if (ending(name) === "txt") return /\d\s*%|percent/i.test(text) && !/humid/i.test(text.split(/\r?\n/, 1)[0]) ? "read_labels" : undefined;
  const key = (...names) => new RegExp(`(^|[{,])\\s*"?(${names.join("|")})"?\\s*[=:]`, "m").test(text);
  if (/^\s*\[\[areas\]\]/m.test(text) || key("areas", "time_zone")) return "read_site";
  if (/^\s*\[guaranteed\]/m.test(text) || key("guaranteed")) return "read_labels";
  return key("ec", "ph", "hardness", "alkalinity", "\\w+_(mg_l|us_cm|caco3)") ? "read_water" : undefined;
}

/** A JSON file of the page itself, or of a place. */
function fromJson(name, text) {
  let value;
  try { value = JSON.parse(text); } catch (error) { throw new Fault(`${name}: this is not JSON (${error.message})`); }
  if (typeof value !== "object" || value === null || Array.isArray(value)) throw new Fault(`${name}: neither a place, a label nor a water`);
  if ("site" in value && "areas" in value.site) return value;
  return value.areas ? { site: value } : null;
}

async function recognised({ name, text }, map) {
  if (ending(name) === "jsonl") return { entries: (await ask("read_entries", { file: name, text })).entries };
  if (!["csv", "toml", "json", "txt"].includes(ending(name))) throw new Fault(`${name}: this kind of file is not read here; give CSV for plants and readings, TOML or JSON for a place, a label or a water`);
  const whole = ending(name) === "json" ? fromJson(name, text) : null;
  if (whole) return whole;
  const file = { file: name, text };
  const read = kind(name, text);
  if (read === "read_readings") return { readings: timed(await ask(read, file), name), series: true };
  if (read === "read_collection") return { plants: (await ask(read, file)).plants };
  if (read === "read_site") return { site: await ask(read, file) };
  if (read === "read_labels") { const { labels } = await ask(read, file); return { feed: labels[0], labels }; }
  if (read === "read_water") return { water: await ask(read, file) };
  if (map) {
    const { readings } = await ask("read_logger", { map_file: map.name, map: map.text, file: name, text, now: new Date().toISOString(), allow_stale: true });
    return { readings, series: true };
  }
  if (ending(name) !== "toml") {
    const found = await unknown(name, text);
    if (found) return found;
  }
  if (ending(name) === "csv") throw new Fault(`${name}: neither plants (columns id, name, area, setting, standing) nor readings (columns time, temp_c, rh_percent); for the file of a logger choose its map (TOML) as well`);
  // not even the right form: the reader of a place says where
  if (ending(name) === "toml") await ask("read_site", file);
  throw new Fault(`${name}: neither a place (with areas), a label (with guaranteed) nor a water`);
}

/** What a logger wrote without a map: read by the map that is proposed for it, with what was assumed;
 * null for what is not a logger's. */
async function unknown(name, text) {
  const area = state.site.areas[0].id;
  const now = new Date().toISOString();
  const { map, columns, findings, report } = await ask("probe_logger", { file: name, text, zone: state.site.time_zone, area, now });
  const air = columns.filter(({ quantity }) => quantity);
  if (!map) {
    const open = findings.filter(({ standing }) => standing === "open");
    if (!air.length || open.some(({ code }) => code === "layout" || code === "quantity")) return null;
    throw new Fault(`${name}: ${open.map(({ message }) => message).join("; ")}; choose its map (TOML) as well`);
  }
  const { readings } = await ask("read_logger", { map_file: "the map that was proposed", map, file: name, text, now, allow_stale: true });
  const unit = (quantity) => report.units.find((u) => u.quantity === quantity)?.stored ?? "";
  const taken = air.map(({ column, quantity }) => `“${column}” was taken for the ${quantity.replace("_", " ")} in ${unit(quantity)}`);
  const assumed = findings.filter(({ standing, code }) => standing === "assumed" && code !== "area").map(({ message }) => message);
  return { readings, series: true, says: `${name} has no map: ${[...taken, ...assumed].join("; ")}${air.some((c) => c.area === area) ? `; all of the area ${area}` : ""}.` };
}

/** A table may leave the offset out; here every reading is a moment. */
function timed({ readings, places }, file) {
  const wrong = readings.findIndex(({ time }) => !/(Z|[+-]\d\d:\d\d)$/i.test(time) || !Number.isFinite(Date.parse(time)));
  if (wrong >= 0) throw new Fault(`${file}, line ${places[wrong]?.line}, time: "${readings[wrong].time}" is no time with its offset; write it like 2026-06-21T06:00:00+01:00`);
  return readings;
}

/** What the files hold, and that in words. */
export async function loaded(list) {
  const map = list.find(isMap);
  const values = {};
  const notes = [];
  for (const file of list) {
    if (file === map) continue;
    const { labels, says, ...rest } = await recognised(file, map);
    if (says) notes.push(says);
    Object.assign(values, rest);
    if (labels) values.labels = [...(values.labels ?? []), ...labels];
  }
  // the one that the place names is used; several wait for the turn
  if (values.labels?.length > 1) values.feed = null;
  const said = [
    values.site && `the place ${values.site.name ?? ""} with ${count(values.site.areas.length, "area")}`,
    values.plants && count(values.plants.length, "plant"),
    values.readings && count(values.readings.length, "reading"),
    values.feed && `the label ${values.feed.name ?? ""}`,
    values.labels?.length > 1 && `${values.labels.length} labels`,
    values.entries && count(values.entries.length, "entry", "entries"),
    values.water && `the water ${values.water.name ?? ""}`,
  ].filter(Boolean);
  return { values, said: [`Loaded ${said.join(", ")}.`, ...notes].join(" ") };
}
