// Recording what was done or seen: one sheet for each kind, and the same to correct an entry.
import { show, words } from "./ask.js";
import { choice, lastRound } from "./choose.js";
import { Fault } from "./fault.js";
import { button, complain } from "./fields.js";
import { draft, plantsOf, record } from "./journal.js";
import { state } from "./keep.js";
import { el, withOffset } from "./make.js";
import { photoName, keepPhoto } from "./photos.js";
import { KINDS, LEVELS, MEASURES, PLACES, SIGNS } from "./words.js";

const number = (key, label, needed = false) => ({ key, label, kind: "number", needed });
const list = (key, label, options) => ({ key, label, kind: options });
const STRENGTH = number("feed_strength_mg_l", "Feed strength, mg/L (0: plain water)", true);

/** What each kind holds beside its plants. */
const FORMS = {
  residue: [list("place", "Where", PLACES)],
  soak: [STRENGTH, number("duration_min", "Minutes", true)],
  flush: [number("volume_ml", "Water poured through, mL"), number("drain_ml", "Ran out below, mL"), number("drain_mg_l", "Dissolved in that, mg/L")],
  wipe: [],
  growth: [list("measure", "What", [["", "only a photo"], ...MEASURES]), number("value", "How many, or how much"), { key: "photo", label: "Photo (stays on this device)", kind: "photo" }],
  response: [list("sign", "What was seen", SIGNS)],
  root_feed: [STRENGTH, number("volume_ml", "Volume, mL"), { key: "product", label: "Product", kind: "text" }],
  note: [],
  task: [{ key: "due", label: "Due", kind: "date", needed: true }, number("every_days", "Again after days")],
  round: [STRENGTH, number("volume_ml", "Volume over all plants, mL"), number("passes", "Passes"), { key: "product", label: "Product", kind: "text" }],
  done: [],
};
const PLANTLESS = ["note", "task", "done"];
export const MENU = ["residue", "soak", "flush", "wipe", "growth", "response", "root_feed", "round", "note", "task"];

const dialog = () => document.getElementById("sheet-of-entry");
let from = null;

function open(...content) {
  const box = dialog();
  if (!box.open) from = document.activeElement;
  box.replaceChildren(...content.flat().filter(Boolean));
  if (!box.open) { box.showModal(); box.addEventListener("close", () => from?.focus?.(), { once: true }); }
  box.scrollTop = 0;
}
const close = () => dialog().close();
const head = (words) => el("div", { class: "sheet-top" }, el("h2", { id: "entry-h" }, words), button("Close", close));

/** What may be recorded. */
export function menu() {
  open(head("Record"), el("div", { class: "choices" }, MENU.map((kind) => button(kind === "residue" ? "Look for white" : KINDS[kind], () => sheet(kind)))));
}

function input(f, value) {
  const id = `entry-${f.key}`;
  let node;
  if (Array.isArray(f.kind)) node = el("select", { id }, f.kind.map(([v, text]) => el("option", { value: v, selected: v === (value ?? "") }, text)));
  else if (f.kind === "photo") node = el("input", { id, type: "file", accept: "image/*", capture: "environment" });
  else node = el("input", { id, type: f.kind === "date" ? "date" : "text", inputmode: f.kind === "number" ? "decimal" : undefined, autocomplete: "off", value: value === undefined ? "" : String(value) });
  node.dataset.key = f.key;
  return el("div", { class: Array.isArray(f.kind) || f.kind === "photo" ? "wide" : undefined }, el("label", { for: id }, f.label), node);
}

function value(f, node) {
  if (f.kind !== "number") return node.value.trim() || undefined;
  const text = node.value.trim().replace(",", ".");
  if (text === "" && !f.needed) return undefined;
  if (text === "" || !Number.isFinite(Number(text))) { node.setAttribute("aria-invalid", "true"); node.focus(); throw new Fault(`${f.label}: ${text === "" ? "it is empty" : `"${text}" is not a number`}`); }
  return Number(text);
}

/** The plants that a kind is mostly about. */
function usual(kind) {
  if (kind === "residue") return lastRound();
  if (kind === "soak") return state.plants.filter((p) => p.standing === "rootless").map((p) => p.id);
  return [];
}

/**
 * The sheet of one kind. `plants` are chosen already; `entry` is one to be corrected, or one that a
 * server refused where `refused` is set; `done` is the task that is done.
 */
export function sheet(kind, { plants, entry, refused, done } = {}) {
  const before = entry?.event ?? (done ? { task: done.entry } : {});
  const plantsChosen = choice(entry ? plantsOf(entry) : plants ?? usual(kind));
  const fields = FORMS[kind].map((f) => [f, input(f, before[f.key])]);
  const status = el("p", { class: "status", role: "status" });
  const when = el("input", { id: "entry-at", type: "datetime-local", value: entry ? entry.at.slice(0, 16) : "" });
  when.dataset.key = "at";
  const note = el("textarea", { id: "entry-note", rows: "2" });
  note.value = entry?.note ?? "";

  async function save(more = {}) {
    try {
      const ids = plantsChosen.ids();
      if (!ids.length && !PLANTLESS.includes(kind)) throw new Fault("Choose the plants first.");
      const event = { ...before, kind, ...more };
      for (const [f, node] of fields) {
        const field = node.querySelector("[data-key]");
        if (f.kind === "photo") { if (field.files[0]) event.photo = await keepPhoto(photoName(ids, field.files[0]), field.files[0]); continue; }
        const v = value(f, field);
        if (v === undefined || v === "") delete event[f.key]; else event[f.key] = v;
      }
      if (kind === "round" || kind === "root_feed") {
        const known = new Map((before.plants ?? []).map((p) => [p.plant, p]));
        // a volume that was changed is that of all of them together
        const same = event.volume_ml === before.volume_ml && ids.length === known.size;
        event.plants = ids.map((id) => (same && known.get(id)) || { plant: id });
        if (kind === "round") { event.passes ??= 1; if (event.feed_strength_mg_l !== before.feed_strength_mg_l) { delete event.n_mg_l; delete event.conditions; } }
      } else if (kind !== "done") event.plants = ids;
      if (kind === "growth" && !event.measure) { delete event.value; if (!event.photo) throw new Fault("Say what was counted, or take a photo."); }
      const moved = when.value && (!entry || when.value !== entry.at.slice(0, 16));
      const at = moved ? withOffset(when.value, state.site.time_zone) : entry?.at;
      const one = draft(event, { at, note: note.value.trim(), supersedes: refused ? undefined : entry?.id });
      if (refused && entry.supersedes) one.supersedes = entry.supersedes;
      const checked = await record([one], refused ? [entry.id] : []);
      close();
      dispatchEvent(new CustomEvent("guardcell-recorded", { detail: { says: `${KINDS[kind]} recorded${checked ? "" : ": it waits to be checked until there is a connection"}.` } }));
    } catch (error) { complain(dialog(), error); show(status, words(error), true); status.scrollIntoView({ block: "nearest" }); }
  }

  const levels = kind === "residue" && el("fieldset", {}, el("legend", {}, "How much white? Tap to record"), el("div", { class: "levels" },
    LEVELS.map(([level, says]) => button(says, () => save({ level }), { class: `level ${level}`, "aria-current": before.level === level ? "true" : undefined }))));
  open(head(entry ? `Correct: ${KINDS[kind]}` : kind === "residue" ? "Look for white" : done ? `Done: ${done.what ?? "task"}` : KINDS[kind]),
    kind === "done" ? null : plantsChosen.node, fields.length ? el("div", { class: "fields" }, fields.map(([, node]) => node)) : null, levels, status,
    el("details", { class: "more", open: Boolean(entry) || kind === "note" || kind === "task" }, el("summary", {}, "When, and a note"), el("div", { class: "fields" },
      el("div", {}, el("label", { for: "entry-at" }, "When (empty: now)"), when),
      el("div", { class: "wide" }, el("label", { for: "entry-note" }, kind === "task" ? "What is to be done" : "Note"), note))),
    levels ? null : el("p", {}, button("Record it", () => save(), { class: "main" })));
}
