// What the journal knows of one plant, and the list of entries.
import { ask, show, words } from "./ask.js";
import { button } from "./fields.js";
import { aside, dropDraft, entries, plantsOf, record, retract, standing, stateOf, unchecked } from "./journal.js";
import { state } from "./keep.js";
import { clock, count, day, el, round, withOffset } from "./make.js";
import { photo } from "./photos.js";
import { sheet } from "./record.js";
import { line } from "./words.js";

const SHOWN = 30;
const year = (time) => (time.slice(0, 4) === String(new Date().getFullYear()) ? "" : ` ${time.slice(0, 4)}`);
const waits = (id) => (stateOf(id) === "waiting" ? el("span", { class: "chip wait" }, "waits") : null);

function row(entry, told) {
  const more = el("div", { class: "bar" });
  const again = (text) => { show(told, text); };
  return el("li", {}, el("details", { ontoggle: (e) => {
    if (!e.target.open || more.children.length) return;
    more.append(button("Correct", () => sheet(entry.event.kind, { entry })), button("Delete", async () => {
      try { await retract(entry); again("Deleted: the journal keeps that it was a mistake."); dispatchEvent(new CustomEvent("guardcell-recorded", { detail: { quiet: true } })); } catch (error) { show(told, words(error), true); }
    }));
    if (entry.event.photo) photo(entry.event.photo).then((p) => more.before(p));
  } }, el("summary", {}, el("span", {}, el("small", {}, `${day(entry.at)}${year(entry.at)}, ${clock(entry.at)}`), line(entry)), waits(entry.id)),
  entry.note ? el("p", { class: "note" }, entry.note) : null, plantsOf(entry).length > 4 ? el("p", { class: "help" }, plantsOf(entry).join(", ")) : null, more));
}

function list(all, told) {
  const ul = el("ul", { class: "entries" }, all.slice(0, SHOWN).map((e) => row(e, told)));
  return [ul, all.length > SHOWN ? button(`Show all ${all.length}`, (e) => { e.target.remove(); ul.append(...all.slice(SHOWN).map((x) => row(x, told))); }) : null].filter(Boolean);
}

/** The whole journal, what a server refused first. */
export function journal(out, told) {
  const refused = aside().map(({ entry, error }) => el("li", { class: "refused" },
    el("p", {}, `The server refused: ${line(entry)}, ${day(entry.at)}.`), el("p", { class: "help" }, `${error.detail}; ${error.hint}`),
    el("div", { class: "bar" },
      button("Change and record anew", () => sheet(entry.event.kind, { entry, refused: true })),
      button("Delete it here", async () => { try { await record([], [entry.id]); } catch (e) { show(told, words(e), true); } }))));
  const open = unchecked().map((d) => el("li", { class: d.fault ? "refused" : undefined }, `${line(d)}, ${day(d.at)}: `, d.fault ?? "waits to be checked until there is a connection", d.fault ? el("div", { class: "bar" }, button("Delete it", () => dropDraft(d.id))) : null));
  const all = standing();
  out.replaceChildren(...[
    refused.length || open.length ? el("ul", { class: "entries" }, refused, open) : null,
    all.length ? null : el("p", { class: "help" }, "Nothing is recorded yet. Log a round on its sheet, or record a look."),
    ...list(all, told),
  ].filter(Boolean));
}

const FINDING = { right: "The strength is right.", "too-strong": "Less is proposed.", "room-for-more": "More is proposed.", "not-known": "Not known yet whether the strength is right." };

/** One plant: its next strength, what it got, what was seen. */
export async function plantHistory(p, out) {
  const own = entries().filter((e) => e.site === state.site.name);
  const told = el("p", { class: "status", role: "status" });
  const mine = standing().filter((e) => plantsOf(e).includes(p.id));
  const parts = [el("div", { class: "bar" }, button("Look for white", () => sheet("residue", { plants: [p.id] })), button("Growth", () => sheet("growth", { plants: [p.id] })),
    p.setting === "potted" ? button("Flush", () => sheet("flush", { plants: [p.id] })) : null, p.standing === "rootless" ? button("Soak", () => sheet("soak", { plants: [p.id] })) : null, button("Wipe", () => sheet("wipe", { plants: [p.id] })), button("Note", () => sheet("note", { plants: [p.id] }))), told];
  if (own.length) {
    try {
      const moment = state.at ? withOffset(state.at.length === 10 ? `${state.at}T12:00` : state.at, state.site.time_zone) : new Date().toISOString();
      const r = await ask("review", JSON.parse(JSON.stringify({ entries: own, plants: state.plants, only: [p.id], at: moment, tolerance: state.site.grower.tolerance, logs_only_white: state.site.grower.logs_only_white || undefined })));
      const v = r.plants[0];
      const got = v.account.weeks.slice(-6).filter((w) => w.leaf_mg || w.root_mg);
      const facts = [
        ["Next", v.next?.proposed_mg_l !== undefined && v.next ? `${Math.round(v.next.proposed_mg_l)} mg/L feed` : v.next ? "plain water" : null],
        ["Usual", v.usual && `${Math.round(v.usual.feed_strength_mg_l)} mg/L, from ${count(v.usual.rounds, "round")}`],
        ["Threshold", r.site.evidence.length ? `${round(r.site.posterior.median_g_m2, 2)} g/m² (${round(r.site.posterior.low_g_m2, 2)} to ${round(r.site.posterior.high_g_m2, 2)}), from ${count(r.site.evidence.length, "look")}` : "not learned yet"],
        ["Looks", v.looks.some(Boolean) ? ["none", "faint", "clear", "heavy"].map((w, i) => (v.looks[i] ? `${v.looks[i]} ${w}` : null)).filter(Boolean).join(", ") : null],
        ["Last fed", v.account.last_fed && day(v.account.last_fed)], ["Next due", v.account.next_due && day(`${v.account.next_due}T`)], ["Flush due", v.account.flush_due && day(`${v.account.flush_due}T`)],
      ].filter(([, d]) => d);
      parts.push(el("dl", { class: "facts" }, facts.map(([t, d]) => [el("dt", {}, t), el("dd", {}, d)])),
        el("p", {}, FINDING[v.finding] ?? ""), v.strength_says.length || v.change.length ? el("ul", { class: "why" }, [...v.change, ...v.strength_says].map((w) => el("li", {}, w))) : null,
        got.length ? el("table", {}, el("caption", {}, "Feed by week, mg"), el("thead", {}, el("tr", {}, ["Week from", "Leaf", "Root"].map((h, i) => el("th", { scope: "col", class: i ? "n" : undefined }, h)))),
          el("tbody", {}, got.map((w) => el("tr", {}, el("th", { scope: "row" }, day(`${w.starts}T`)), [w.leaf_mg, w.root_mg].map((x) => el("td", { class: "n" }, round(x ?? 0))))))) : null);
    } catch (error) { parts.push(el("p", { class: "status wrong" }, words(error))); }
  }
  parts.push(...(mine.length ? list(mine, told) : [el("p", { class: "help" }, "The journal has nothing of it yet.")]));
  out.replaceChildren(...parts.filter(Boolean));
}
