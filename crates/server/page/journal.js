// The journal of this device. What an entry is, and what may be recorded, sent and taken, is decided by
// the call `device_journal`; this keeps what it answers.
import { ask, Unreachable } from "./ask.js";
import { state } from "./keep.js";
import { inZone } from "./make.js";
import { get, put, swap } from "./store.js";

const KEY = "journal";
const MOST = 500;
const fresh = () => ({ version: 0, device: null, send: null, cursor: "0", waiting: 0, drafts: [] });
let kept = fresh();
let all = [];
let turn = Promise.resolve();
/** One after the other: each step starts from what the one before it left. */
const queued = (work) => { const mine = turn.then(work); turn = mine.catch(() => {}); return mine; };

function read(value) {
  kept = value;
  const held = Object.values(kept.device?.held ?? {}).sort((a, b) => a.order - b.order);
  all = held.map((h) => h.entry);
  dispatchEvent(new Event("guardcell-journal"));
}

export async function begin() { read(await get("kept", KEY) ?? fresh()); }

/** Takes the journal one step further, whichever window comes first. */
async function further(change, more = {}) {
  for (;;) {
    const before = kept;
    const answer = await ask("device_journal", { ...change, ...(before.device ? { device: before.device } : {}) });
    const after = { ...before, ...(typeof more === "function" ? more(before) : more), version: before.version + 1, device: answer.device, send: answer.send ?? null, cursor: answer.cursor, waiting: answer.waiting };
    const now = await swap("kept", KEY, before.version, after);
    read(now ?? fresh());
    if (now === after) return after;
  }
}

/** What happened between this device and a server. */
export const step = (change) => queued(() => further(change));

/** An identifier of this device's own. */
export const newId = () => Array.from(crypto.getRandomValues(new Uint8Array(10)), (b) => b.toString(16).padStart(2, "0")).join("");

/** A draft of an event, now or at a local time, at the place that is entered here. */
export function draft(event, { at, note, supersedes } = {}) {
  const zone = state.site.time_zone;
  return JSON.parse(JSON.stringify({ id: newId(), recorded: new Date().toISOString(), at: at || inZone(Math.floor(Date.now() / 1000) * 1000, zone), zone, site: state.site.name ?? "My plants", supersedes, event, note: note || undefined }));
}

/** Records drafts; where nobody can check them now they wait on this device. True if they are recorded. */
export function record(drafts, dropped = []) {
  navigator.storage?.persist?.().catch(() => {});
  return queued(async () => {
    try {
      for (let i = 0; i < drafts.length || (i === 0 && dropped.length); i += MOST) await further({ record: drafts.slice(i, i + MOST), ...(i === 0 && dropped.length ? { dropped } : {}) });
      return true;
    } catch (error) {
      if (!(error instanceof Unreachable)) throw error;
      await change((now) => ({ drafts: [...(now.drafts ?? []), ...drafts] }));
      return false;
    }
  });
}

/** Records what had to wait for a check; what is refused stays with the reason. */
export const settle = () => queued(async () => {
  for (const one of (kept.drafts ?? []).filter((d) => !d.fault)) {
    const without = (now) => ({ drafts: (now.drafts ?? []).filter((d) => d.id !== one.id) });
    try { await further({ record: [one] }, without); } catch (error) {
      if (error instanceof Unreachable) return;
      await change((now) => ({ drafts: now.drafts.map((d) => (d.id === one.id ? { ...d, fault: error.message } : d)) }));
    }
  }
});

/** Changes what is kept beside the journal itself. */
async function change(more) { read(await swap("kept", KEY, kept.version, { ...kept, ...more(kept), version: kept.version + 1 }) ?? fresh()); }

/** Drops what was never checked. */
export const dropDraft = (id) => queued(() => change((now) => ({ drafts: now.drafts.filter((d) => d.id !== id) })));

/** Takes an entry back: it stays, and counts for nothing. */
export const retract = (entry) => record([draft({ kind: "retraction" }, { supersedes: entry.id })]);

/** Every entry, corrected ones and retractions too. */
export const entries = () => all;

/** Entries that count, the latest first. */
export function standing() {
  const corrected = new Set(all.map((e) => e.supersedes).filter(Boolean));
  return all.filter((e) => !corrected.has(e.id) && e.event.kind !== "retraction").sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
}

export const plantsOf = ({ event }) => (event.plants ?? []).map((p) => p.plant ?? p);
export const stateOf = (id) => kept.device?.held?.[id]?.state;
export const aside = () => kept.device?.aside ?? [];
export const waiting = () => kept.waiting + (kept.drafts?.length ?? 0);
export const unchecked = () => kept.drafts ?? [];
export const toSend = () => kept.send;
export const cursor = () => kept.cursor;

/** Deletes the journal here. */
export async function destroy() {
  await put("kept", KEY, { ...fresh(), version: kept.version + 1 });
  await begin();
}
