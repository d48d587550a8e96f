// Every plant with its verdict and the reasons: one row for each group that gets the same.
import { clock, count, day, el, percent, plainly, round, span, strength } from "./make.js";

export const WORD = { feed: "Feed", wait: "Wait", "water-only": "Water only", leave: "Leave alone" };
const passes = (n) => (n === 1 ? "one pass" : `${n} passes`);

/** Plants with the same verdict, openings, window and strength belong to one row. */
export function groups(advice) {
  const map = new Map();
  for (const p of advice.plants) {
    const w = p.windows[0];
    const key = JSON.stringify([p.area, p.verdict, w?.start, w?.end, p.feed_strength_mg_l, p.passes, p.openings.map((o) => [o.start, o.end]), p.verdict === "feed" ? null : p.reasons[0]?.code]);
    map.set(key, [...(map.get(key) ?? []), p]);
  }
  const order = ["feed", "water-only", "wait", "leave"];
  const at = (g) => Date.parse(g[0].windows[0]?.start ?? "9999-01-01T00:00Z");
  return [...map.values()].sort((a, b) => order.indexOf(a[0].verdict) - order.indexOf(b[0].verdict) || at(a) - at(b));
}

const windows = (w) => `${span(w)}: ${w.feed_strength_mg_l > 0 ? `${round(w.feed_strength_mg_l)} mg/L feed` : "plain water"}, ${passes(w.passes)}; chance of visible residue ${percent(w.residue_probability)}${w.dry_minutes ? `; dry after about ${round(w.dry_minutes)} min` : "; stays moist at first"}${w.driest_rh_percent ? `; driest air after it ${round(w.driest_rh_percent)} %` : ""}${w.costs ? `. It costs: ${w.costs}` : ""}.`;

function why(p, group, says) {
  const sources = p.reasons.filter((r) => r.sources.length);
  return el("div", { class: "why" },
    group.length > 1 ? el("p", {}, el("strong", {}, "Plants: "), group.map((q) => `${q.id} ${q.name}`).join("; ")) : null,
    p.taken_for && p.taken_for !== p.name ? el("p", {}, `${p.name} was taken for ${p.taken_for}.`) : null,
    p.windows.length && p.verdict !== "leave" ? el("p", {}, el("strong", {}, "Best: "), windows(p.windows[0])) : null,
    p.windows[1] && p.verdict !== "leave" ? el("p", {}, el("strong", {}, "Next best: "), windows(p.windows[1])) : null,
    el("h3", {}, "Why"),
    el("ul", {}, p.reasons.map((r) => el("li", {}, says(r.message)))),
    p.unknowns.length ? [el("h3", {}, "Not known"), el("ul", {}, p.unknowns.map((u) => el("li", {}, `${u.what[0].toUpperCase()}${u.what.slice(1)}: assumed ${u.assumed}; to know, ${u.measure}`)))] : null,
    p.near_limits?.length ? [el("h3", {}, "Near a limit"), el("ul", {}, p.near_limits.map((r) => el("li", {}, says(r.message))))] : null,
    p.changes?.length ? [el("h3", {}, "Instead"), el("ul", {}, p.changes.map((c) => el("li", {}, says(c.message))))] : null,
    p.weekly ? el("p", {}, `Its pot gets ${round(p.weekly.leaf_mg)} mg of feed a week from the leaf${p.weekly.root_mg !== undefined && p.weekly.root_mg !== null ? ` and ${round(p.weekly.root_mg)} mg at the root` : ""}${p.weekly.ceiling_mg ? `; at most ${round(p.weekly.ceiling_mg)} mg` : ""}${p.weekly.flush_due ? `; flush with plain water by ${day(p.weekly.flush_due)}` : ""}.`) : null,
    sources.length ? el("details", { class: "more" }, el("summary", {}, "Where each reason comes from"), el("ul", { class: "src" }, p.reasons.map((r) => el("li", {}, `${r.code}: ${r.sources.join(", ") || "worked out here"}`)))) : null);
}

function row(group, mixed, says) {
  const p = group[0];
  const best = p.windows[0];
  const names = group.map((q) => q.name);
  const who = names.length > 3 ? `${names.slice(0, 2).join(", ")} and ${names.length - 2} more` : names.join(", ");
  const m = mixed.get(p.id);
  const what = p.verdict === "leave" || !best ? null
    : p.feed_strength_mg_l ? `${m ? strength(m) : `${round(p.feed_strength_mg_l)} mg/L feed`}, ${passes(p.passes)}` : `plain water, ${passes(p.passes)}`;
  const when = best && p.verdict !== "leave" ? span(best) : p.due ? `due ${day(p.due)}, ${clock(p.due)}` : "no window";
  return el("li", {}, el("details", {},
    el("summary", {}, el("span", { class: "who" },
      el("span", { class: "when" }, el("span", { class: `verdict ${p.verdict}` }, WORD[p.verdict]), ` ${when}`),
      el("span", { class: "names" }, who), what ? el("small", {}, what) : null)),
    why(p, group, says)));
}

/** The verdict of one plant, for its own page. */
export function verdict(p, zone) {
  const says = (words) => plainly(words, zone);
  return [el("p", { class: "when" }, el("span", { class: `verdict ${p.verdict}` }, WORD[p.verdict]), p.windows[0] && p.verdict !== "leave" ? ` ${span(p.windows[0])}` : ""), el("details", { class: "more" }, el("summary", {}, "Why"), why(p, [p], says))];
}

/** All rows. */
export function verdicts({ advice, plan, zone }) {
  const says = (words) => plainly(words, zone);
  const mixed = new Map((plan?.sittings ?? []).flatMap((s) => s.steps).flatMap((s) => s.groups.flatMap((g) => g.plants.map((p) => [p.id, s]))));
  return [
    el("p", { class: "help" }, `${advice.site}, ${day(advice.from)} ${clock(advice.from)} to ${day(advice.to)} ${clock(advice.to)}. Tap a row to see why.`),
    el("ul", { class: "ribbon" }, groups(advice).map((g) => row(g, mixed, says))),
    el("details", { class: "more" }, el("summary", {}, "Cautions and sources"),
      el("ul", {}, advice.cautions.map((c) => el("li", {}, says(c.message)))),
      el("ul", { class: "src" }, advice.sources.map((s) => el("li", {}, s.work, s.doi ? ` doi:${s.doi}` : "", ` [${s.key}; read: ${s.read}]`)))),
  ];
}
