// The first screen: what to do next, what it takes, what would make more possible, who is left out.
import { amount, beside, clock, count, day, el, ml, plainly, round, span, strength } from "./make.js";
import { task } from "./words.js";

const size = (s) => s.steps.reduce((n, t) => n + t.groups.reduce((m, g) => m + g.plants.length, 0), 0);
const part = (s) => { const words = s.part_of_day.replaceAll("-", " "); return words[0].toUpperCase() + words.slice(1); };

function bucket(b) {
  const s = b.stock;
  return s ? `${amount(s)} ${b.product} made up to ${ml(s.made_up_to_ml)}; ${round(s.take_ml, 4)} mL of that, filled up to ${ml(b.water_l * 1000)}`
    : `${amount(b)} ${b.product} in ${round(b.water_l)} L of water`;
}

/** What would make a feeding possible, for most plants first. */
function possible(alone, says) {
  const found = new Map();
  for (const a of alone) if (a.changes[0]) found.set(a.changes[0], (found.get(a.changes[0]) ?? 0) + a.plants.length);
  return [...found].sort((a, b) => b[1] - a[1]).slice(0, 2).map(([change, n]) => `${count(n, "plant")}: ${says(change)}`);
}

function leftOut(alone, says) {
  const n = alone.reduce((sum, a) => sum + a.plants.length, 0);
  if (!n) return null;
  return el("details", { class: "more" }, el("summary", {}, `Left out: ${count(n, "plant")}`),
    el("ul", {}, alone.map((a) => el("li", {}, el("strong", {}, a.plants.map((p) => p.id).join(", ")), `: ${says(a.reason.message)}`))));
}

const row = (name, ...content) => el("div", { class: "fact" }, el("dt", {}, name), el("dd", {}, content));

function planned(plan, situation, says) {
  const [first, ...later] = plan.sittings;
  const b = first?.bucket ?? plan.bucket;
  const could = possible(plan.alone, says);
  const turn = situation?.turn;
  return el("div", { class: `next ${first ? "go" : "rest"}` },
    el("p", { class: "eyebrow" }, first ? `${part(first)}, ${day(first.start)}` : "Nothing to spray now"),
    first ? el("p", { class: "hour" }, span(first).replace(/^[^,]*, /, "")) : el("p", { class: "large" }, "No window in the time looked at."),
    first ? el("p", { class: "large" }, `${count(size(first), "plant")}, about ${round(first.minutes, 2)} min`) : null,
    el("dl", {},
      b ? row("Bucket", bucket(b), b.with?.length ? el("span", { class: "line" }, `with ${beside(b)}`) : null, el("small", {}, strength(b))) : first ? row("Bucket", "plain water") : null,
      turn ? row("Turn", `${turn.product ?? turn.gives} (${turn.place} of ${turn.of})${turn.begun ? ", begun today" : ""}`) : null,
      situation?.learned?.next ? row("Strength", situation.learned.says[0]) : null,
      later.length ? row("Then", later.map((s) => el("span", { class: "line" }, `${span(s)}: ${count(size(s), "plant")}`))) : null,
      could.length ? row("Could", could.map((c) => el("span", { class: "line" }, c))) : null),
    leftOut(plan.alone, says));
}

/** Without a label there is no bucket, but there are hours. */
function unplanned(advice, refused, says) {
  const due = advice.plants.filter((p) => ["feed", "water-only"].includes(p.verdict) && p.windows[0]);
  const first = due.map((p) => p.windows[0]).sort((a, b) => Date.parse(a.start) - Date.parse(b.start))[0];
  const n = first ? due.filter((p) => p.windows[0].start === first.start).length : 0;
  const change = advice.plants.flatMap((p) => p.changes ?? [])[0];
  return el("div", { class: `next ${first ? "go" : "rest"}` },
    el("p", { class: "eyebrow" }, first ? day(first.start) : "Nothing to spray now"),
    first ? el("p", { class: "hour" }, span(first).replace(/^[^,]*, /, "")) : null,
    first ? el("p", { class: "large" }, `${count(n, "plant")}, up to ${round(Math.max(...due.map((p) => p.feed_strength_mg_l ?? 0)))} mg/L feed`) : null,
    el("dl", {}, row("Bucket", refused ?? ["Enter the label of your feed to see what to weigh: ", el("a", { href: "#feed" }, "Feed")]), change && !first ? row("Could", says(change.message)) : null));
}

/** The answer in short. */
export function now({ plan, advice, situation, refused, zone }) {
  const says = (text) => plainly(text, zone);
  return [
    plan ? planned(plan, situation, says) : unplanned(advice, refused, says),
    situation?.learned?.lost?.length ? el("p", { class: "help" }, `Logged as lost and still in the collection: ${situation.learned.lost.join(", ")}.`) : null,
  ].filter(Boolean);
}

/** What is due beside the spraying; `act` is called with a task. */
export function due(list, act) {
  if (!list?.length) return [];
  return [el("h3", {}, "Due"), el("ul", { class: "due" }, list.map((t) => {
    const w = task(t);
    return el("li", {}, el("span", {}, w.says, el("small", {}, w.plants)), el("button", { type: "button", onclick: () => act(t) }, w.button));
  }))];
}

/** From when to when, for the small print under the answer. */
export const looked = (advice) => `${day(advice.from)} ${clock(advice.from)} to ${day(advice.to)} ${clock(advice.to)}`;
