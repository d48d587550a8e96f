// Dated copies of what was entered, made before it is replaced: a list to go back to.
import { clear, drop, get, keys, put } from "./store.js";

const MOST = 20;

/** Makes a copy, and lets go of the oldest where there are too many. Gives its key. */
export async function copy(why, state) {
  // as it is now: what is copied goes on changing
  const value = { why, text: JSON.stringify(state), plants: state.plants.length, site: state.site.name ?? "" };
  const list = await keys("copies");
  const time = new Date().toISOString();
  const key = list.includes(time) ? `${time}.${list.length}` : time;
  await put("copies", key, value);
  for (const old of list.sort().slice(0, Math.max(0, list.length + 1 - MOST))) await drop("copies", old);
  return key;
}

/** The copies, the last first. */
export async function copies() {
  const list = (await keys("copies")).sort().reverse();
  return Promise.all(list.map(async (key) => ({ key, ...await get("copies", key) })));
}

export async function lastCopy(key) {
  try { return JSON.parse((await get("copies", key)).text); } catch { return null; }
}

export const withoutCopies = () => clear("copies");
