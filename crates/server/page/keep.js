// What was entered: kept on this device, shared as a link whose fragment never goes to a server. What
// is replaced is copied before.
import { copy, lastCopy, withoutCopies } from "./copies.js";

const KEY = "guardcell";
const AIR = `${KEY}-air`;
const TAKEN = `${KEY}-taken`;
const UNDO = `${KEY}-undo`;
const ANSWER = `${KEY}-answer`;
const TICKS = `${KEY}-ticks`;
const AIR_COLUMNS = ["time", "area", "temp_c", "rh_percent", "air_m_s", "radiation_w_m2"];

const nothing = () => ({
  site: { name: "My plants", latitude_deg: null, longitude_deg: null, time_zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    areas: [{ id: "here", name: "Here", shelter: "room", light: "sun" }], grower: { mister_ml: 1000, scale_g: 0.1 } },
  readings: [], series: false, plants: [], feed: null, labels: [], water: null, at: "",
  target: { mg_l: 300, volume_l: 2 },
});

export const state = nothing();

const plain = (v) => typeof v === "object" && v !== null && !Array.isArray(v);
const rows = (v) => Array.isArray(v) && v.every(plain);
/** What each part must look like; a link or a store may hold anything. */
const FIT = {
  site: (v) => plain(v) && rows(v.areas) && v.areas.length > 0 && (v.grower === undefined || plain(v.grower)),
  readings: (v) => rows(v) && v.every((r) => typeof r.time === "string"),
  series: (v) => typeof v === "boolean",
  plants: rows,
  feed: (v) => v === null || (plain(v) && (v.guaranteed === undefined || plain(v.guaranteed))),
  labels: rows,
  water: (v) => v === null || plain(v),
  at: (v) => typeof v === "string",
  target: plain,
};

function take(values) {
  if (!plain(values)) return false;
  const fit = Object.keys(FIT).filter((key) => key in values && FIT[key](values[key]));
  for (const key of fit) state[key] = values[key];
  if (fit.includes("readings") && !fit.includes("series")) state.series = state.readings.length > state.site.areas.length;
  state.site.grower ??= {};
  return fit.length > 0;
}

const put = (key, text) => { try { localStorage.setItem(key, text); return true; } catch { return false; } };
const read = (key) => { try { return localStorage.getItem(key); } catch { return null; } };
const drop = (key) => { try { localStorage.removeItem(key); } catch { /* a closed store holds nothing */ } };
const parsed = (text) => { try { return JSON.parse(text); } catch { return null; } };
const changed = () => dispatchEvent(new Event("guardcell-changed"));

/** Keeps all but the readings, which may be many and change seldom. */
export function save() {
  drop(TAKEN);
  put(KEY, JSON.stringify({ ...state, readings: undefined }));
  changed();
}

/** Keeps the readings; false where this device has no room for them. */
export function saveAir() {
  save();
  if (!state.readings.length) { drop(AIR); return true; }
  return put(AIR, packed(state.readings));
}

/** Readings as rows without the names of their fields, which take half as much room. */
const packed = (readings) => JSON.stringify(readings.map((r) => AIR_COLUMNS.map((key) => r[key] ?? null)));
const unpacked = (text) => (parsed(text) ?? []).map((row) => Object.fromEntries(AIR_COLUMNS.map((key, i) => [key, row[i]]).filter(([, v]) => v !== null && v !== undefined)));

const anything = () => state.plants.length > 0 || state.readings.length > 0 || Object.keys(state.feed?.guaranteed ?? {}).length > 0 || Object.keys(state.water ?? {}).length > 0 || state.site.latitude_deg !== null;

/** Whether what is here is as a link or a server gave it: it can be had again and needs no copy. */
const asTaken = () => read(TAKEN) !== null;

/** Copies what is here, so that it can be put back; `always` what is as it was taken, too. */
export async function remember(why, always = false) {
  if (!anything() || (asTaken() && !always)) return;
  put(UNDO, await copy(why, state));
}

/**
 * Takes new values in place of what was here, which is copied before. False where nothing of them fits.
 * `foreign` marks what was not entered here.
 */
export async function replace(values, why, foreign = false) {
  if (!plain(values) || !Object.keys(FIT).some((key) => key in values && FIT[key](values[key]))) return false;
  // nothing of what was entered here is left in what it becomes
  const whole = asTaken() || !anything() || ["site", "readings", "plants", "feed", "water"].every((key) => key in values && FIT[key](values[key]));
  await remember(why);
  take(values);
  saveAir();
  if (foreign && whole) put(TAKEN, "yes");
  return true;
}

export const canPutBack = () => read(UNDO) !== null;
export const settle = () => drop(UNDO);

/** Puts a copy back: the one that was made last, or the one that is given. */
export async function putBack(chosen) {
  const before = chosen ?? await lastCopy(read(UNDO));
  if (chosen) await remember("before a copy was put back");
  drop(UNDO);
  if (before && take({ ...nothing(), ...before })) saveAir();
}

export const fresh = () => nothing();
export const isEmpty = () => !anything();

export async function forget() {
  for (const key of [AIR, UNDO, TAKEN, ANSWER, TICKS, KEY]) drop(key);
  take(nothing());
  await withoutCopies();
}

/** The last answer, so that the round can be read where there is no connection. */
export const keepAnswer = (answer) => put(ANSWER, JSON.stringify(answer));
export const keptAnswer = () => parsed(read(ANSWER));

async function through(stream, bytes) {
  return new Uint8Array(await new Response(new Blob([bytes]).stream().pipeThrough(stream)).arrayBuffer());
}

/** The address of this page with these values. */
export async function link(values) {
  const packed = await through(new CompressionStream("deflate-raw"), new TextEncoder().encode(JSON.stringify(values)));
  let text = "";
  for (const byte of packed) text += String.fromCharCode(byte);
  const code = btoa(text).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
  return `${location.origin}${location.pathname}#with=${code}`;
}

/** Reads what was kept, then the link this page was opened by. Says where it came from. */
export async function load() {
  take(parsed(read(KEY)));
  try { take({ readings: unpacked(read(AIR)), series: state.series }); } catch { /* not ours */ }
  const code = /^#with=(.*)$/.exec(location.hash)?.[1];
  if (code === undefined) return "device";
  history.replaceState(null, "", location.pathname);
  try {
    const packed = Uint8Array.from(atob(code.replaceAll("-", "+").replaceAll("_", "/")), (c) => c.charCodeAt(0));
    return await replace(JSON.parse(new TextDecoder().decode(await through(new DecompressionStream("deflate-raw"), packed))), "before a link was opened", true) ? "link" : "broken link";
  } catch { return "broken link"; }
}

/** Ticks of a sheet, and what was logged of it, kept by the plan they belong to. */
export function ticks(plan) {
  const kept = parsed(read(TICKS)) ?? {};
  const mine = kept.plan === plan;
  const set = new Set(mine && Array.isArray(kept.set) ? kept.set : []);
  const logged = mine && plain(kept.logged) ? kept.logged : {};
  const keep = () => put(TICKS, JSON.stringify({ plan, set: [...set], logged }));
  return {
    has: (id) => set.has(id),
    put(id, on) { if (on) set.add(id); else set.delete(id); keep(); },
    clear() { set.clear(); keep(); },
    logged: (sitting) => (Array.isArray(logged[sitting]) ? logged[sitting] : []),
    log(sitting, ids) { logged[sitting] = ids; keep(); },
  };
}
