// A sitting that was done becomes entries of the journal: what was not ticked was left out, and what was
// changed is said. What the entries are is decided by the call `given`.
import { ask, show, words } from "./ask.js";
import { button, complain } from "./fields.js";
import { entries, newId, record, retract } from "./journal.js";
import { state } from "./keep.js";
import { clock, count, day, el, inZone, ml, withOffset } from "./make.js";

const WHO = "guardcell-who";
const recall = () => { try { return localStorage.getItem(WHO) ?? ""; } catch { return ""; } };
const retain = (text) => { try { localStorage.setItem(WHO, text); } catch { /* asked again */ } };

/** `tick` holds what was logged of this plan; `boxes` are all of the sheet. */
export function logging(plan, index, tick, boxes) {
  const sitting = plan.sittings[index];
  const status = el("p", { class: "status", role: "status" });
  const mine = () => boxes.filter((b) => b.dataset.sitting === String(index));
  const done = () => mine().filter((b) => b.checked);
  const field = (key, label, step, such) => {
    const id = `given-${index}-${step ?? ""}${key}`;
    const input = el("input", { id, type: "text", inputmode: key === "who" ? undefined : "decimal", autocomplete: "off", placeholder: such });
    input.dataset.key = key;
    return { node: el("div", {}, el("label", { for: id }, label), input), text: () => input.value.trim(), put: (v) => { input.value = v; } };
  };
  const steps = sitting.steps.map((s, i) => ({
    title: s.feed_strength_mg_l > 0 ? `${Math.round(s.feed_strength_mg_l)} mg/L` : "Plain water",
    strength: field("feed_strength_mg_l", "Strength, mg/L", i, String(Math.round(s.feed_strength_mg_l))),
    volume: field("volume_ml", "Sprayed, mL", i, String(Math.round(s.spray_ml))),
  }));
  const who = field("who", "Done by", null, "");
  who.put(recall());
  const at = el("input", { id: `given-${index}-at`, type: "datetime-local" });
  at.dataset.key = "at";
  const log = button("", save, { class: "main" });
  const back = button("Take it back", undo);
  const edits = el("details", { class: "more" }, el("summary", {}, "Done differently?"),
    el("p", { class: "help" }, "Empty: as planned. Plants without a tick were left out; without any tick all were sprayed."),
    steps.map((s) => el("fieldset", {}, el("legend", {}, s.title), el("div", { class: "fields" }, s.strength.node, s.volume.node))),
    el("div", { class: "fields" }, who.node, el("div", {}, el("label", { for: at.id }, `When (empty: ${clock(sitting.start)}, or now where that is to come)`), at)));
  const node = el("div", { class: "log no-print" }, edits, el("div", { class: "bar" }, log, back), status);

  const standing = () => {
    const corrected = new Set(entries().map((e) => e.supersedes).filter(Boolean));
    return entries().filter((e) => tick.logged(index).includes(e.id) && !corrected.has(e.id));
  };
  function changed() {
    const [n, all] = [done().length, mine().length];
    log.textContent = `Log the round: ${n === 0 || n === all ? `all ${count(all, "plant")}` : `${n} of ${count(all, "plant")}`}`;
    const logged = tick.logged(index).length > 0;
    back.hidden = !logged;
    log.hidden = edits.hidden = logged;
    if (logged && !status.textContent) show(status, `Logged${standing().length ? ` for ${day(standing()[0].at)}, ${clock(standing()[0].at)}` : ""}.`);
  }
  const number = (f) => { const t = f.text().replace(",", "."); return t === "" ? undefined : Number.isFinite(Number(t)) ? Number(t) : t; };
  async function save() {
    try {
      const zone = state.site.time_zone;
      const left = done().length ? mine().filter((b) => !b.checked).map((b) => b.dataset.plant) : [];
      const moment = at.value ? withOffset(at.value, zone) : Date.parse(sitting.start) > Date.now() ? inZone(Math.floor(Date.now() / 1000) * 1000, zone) : undefined;
      const changes = steps.map((s, step) => ({ step, feed_strength_mg_l: number(s.strength), volume_ml: number(s.volume) })).filter((s) => s.feed_strength_mg_l !== undefined || s.volume_ml !== undefined);
      retain(who.text());
      const { entries: made } = await ask("given", JSON.parse(JSON.stringify({ plan, sitting: index, id: newId(), recorded: new Date().toISOString(), at: moment, zone, left_out: left, steps: changes, note: who.text() ? `by ${who.text()}` : "" })));
      complain(node, null);
      await record(made);
      tick.log(index, made.map((e) => e.id));
      const sum = made.reduce((v, e) => v + (e.event.volume_ml ?? 0), 0);
      show(status, `Logged for ${day(made[0].at)}, ${clock(made[0].at)}: ${count(new Set(made.flatMap((e) => e.event.plants.map((p) => p.plant))).size, "plant")}, ${ml(sum)}.`);
      dispatchEvent(new CustomEvent("guardcell-recorded", { detail: { quiet: true } }));
    } catch (error) { complain(node, error); show(status, words(error), true); }
    changed();
  }
  async function undo() {
    try {
      for (const entry of standing()) await retract(entry);
      tick.log(index, []);
      show(status, "Taken back: the journal keeps that it was a mistake.");
      dispatchEvent(new CustomEvent("guardcell-recorded", { detail: { quiet: true } }));
    } catch (error) { show(status, words(error), true); }
    changed();
  }
  return { node, changed };
}
