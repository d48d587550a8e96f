// Entries and tasks in words, made from their data.
import { count, day, ml, round } from "./make.js";

export const LEVELS = [["none", "No white"], ["faint", "Faint"], ["clear", "Clear"], ["heavy", "Heavy"]];
export const PLACES = [["leaf", "on the leaf"], ["root_tip", "on a root tip"], ["pot_surface", "on the pot"]];
export const MEASURES = [["new_root", "new roots"], ["new_leaf", "new leaves"], ["new_pseudobulb", "new pseudobulbs"], ["flower", "flowers"], ["lost_leaf", "lost leaves"], ["leaf_length_mm", "length of the longest leaf, mm"], ["weight_g", "weight, g"]];
export const SIGNS = [["root_tip", "a new root tip"], ["new_growth", "new growth"], ["bud", "a spike or bud"], ["loss", "the plant died"]];
export const KINDS = { round: "Round", root_feed: "Feed at the root", residue: "Look", flush: "Flush", soak: "Soak", response: "Sign", growth: "Growth", wipe: "Wipe", task: "Task", done: "Done", note: "Note", retraction: "Taken back" };

export const word = (list, key) => list.find(([k]) => k === key)?.[1] ?? String(key ?? "").replaceAll("_", " ");
const some = (ids, most = 4) => (ids.length > most ? `${ids.slice(0, most - 1).join(", ")} and ${ids.length - most + 1} more` : ids.join(", "));
const some2 = (v, text) => (v === undefined || v === null ? null : text(v));

/** What an event says, without its plants. */
export function happened(e) {
  const fed = () => (e.feed_strength_mg_l > 0 ? `${Math.round(e.feed_strength_mg_l)} mg/L` : "plain water");
  const parts = {
    round: () => [fed(), e.passes > 1 ? `${e.passes} passes` : null, some2(e.volume_ml, ml), e.product],
    root_feed: () => [fed(), some2(e.volume_ml, ml), e.product],
    residue: () => [`${word(LEVELS, e.level).toLowerCase()}${e.level === "none" ? "" : ` ${word(PLACES, e.place ?? "leaf")}`}`, e.nature === "scale" ? "scale" : null],
    flush: () => [some2(e.volume_ml, ml)],
    soak: () => [fed(), `${round(e.duration_min)} min`],
    response: () => [word(SIGNS, e.sign)],
    growth: () => [e.measure ? `${round(e.value)} ${word(MEASURES, e.measure)}` : null, e.photo ? `photo ${e.photo}` : null],
    task: () => [`due ${e.due}`, e.every_days ? `every ${e.every_days} days` : null],
  }[e.kind];
  return (parts ? parts() : []).filter(Boolean).join(", ");
}

/** An entry in one line. */
export function line(entry) {
  const ids = (entry.event.plants ?? []).map((p) => p.plant ?? p);
  const what = happened(entry.event);
  return `${KINDS[entry.event.kind] ?? entry.event.kind}${what ? `: ${what}` : ""}${ids.length ? ` · ${some(ids)}` : ""}`;
}

/** A task in one line, and the button that does it. */
export function task(t) {
  const since = t.since ? day(`${t.since}T`) : "";
  const n = t.plants.length;
  const made = {
    soak: [`Soak ${count(n, "plant")} without roots`, "Log a soak"],
    look: [`Look for white on the leaves sprayed ${since}`, "Look"],
    wipe: [`Wipe the leaves that had white ${since}`, "Wiped"],
    flush: [`Flush ${count(n, "pot")} with plain water, due since ${since}`, "Flushed"],
    rescue: ["Look for root tips on what was soaked for weeks", "Log a sign"],
    count: ["Count new roots and leaves", "Count"],
    own: [`${t.what || "A task of yours"}, due ${since}`, "Done"],
  }[t.task] ?? [t.task, "Log"];
  return { says: made[0], button: made[1], plants: some(t.plants, 6) };
}
