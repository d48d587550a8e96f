// The day ribbon: one row for each group of plants that get the same, openings drawn as pores.
import { clock, count, day, el, inZone, minutes, percent, plainly, round, span, strength, svg } from "./make.js";

const narrow = matchMedia("(max-width: 40rem)");
const WORD = { feed: "Feed", wait: "Wait", "water-only": "Water only", leave: "Leave alone" };
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

/** The width of a drawing, and where a time stands in it. */
function scale(advice) {
  const width = narrow.matches ? 330 : 640;
  const [from, to] = [Date.parse(advice.from), Date.parse(advice.to)];
  return Object.assign((time) => Math.max(0, Math.min(width, ((Date.parse(time) - from) / (to - from)) * width)), { width });
}

function background(x, lit, height) {
  return [svg("rect", { class: "night", width: x.width, height }), lit.filter((s) => x(s.end) > x(s.start)).map((s) => svg("rect", { class: "lit", x: x(s.start), width: x(s.end) - x(s.start), height }))];
}

/** Every sixth hour of the clock of the place. */
function hours(advice) {
  const zone = minutes(advice.from.slice(19)) * 6e4;
  const out = [];
  for (let t = Math.ceil(Date.parse(advice.from) / 36e5) * 36e5; t <= Date.parse(advice.to); t += 36e5) {
    const hour = new Date(t + zone).getUTCHours();
    if (hour % 6 === 0) out.push({ time: new Date(t).toISOString(), hour });
  }
  return out;
}

const lines = (advice, x, height) => hours(advice).map(({ time, hour }) => svg("line", { class: hour ? "grid" : "grid midnight", x1: x(time), x2: x(time), y1: 0, y2: height }));

/** An opening as a pore: pointed at both ends, wide in the middle. */
function pore(x, o, middle, half) {
  const [a, b] = [x(o.start), x(o.end)];
  const m = (a + b) / 2;
  const h = half * (0.35 + 0.65 * (o.probability ?? 1));
  return svg("path", { class: "pore", d: `M${a} ${middle}Q${m} ${middle - 2 * h} ${b} ${middle}Q${m} ${middle + 2 * h} ${a} ${middle}Z`, opacity: 0.45 + 0.5 * (o.probability ?? 1) });
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

function row(group, x, lit, advice, mixed, says) {
  const p = group[0];
  const [best, second] = p.windows;
  const mark = (w, name) => w && svg("rect", { class: name, x: x(w.start), width: Math.max(5, x(w.end) - x(w.start)), y: 6, height: 28, rx: 7 });
  const picture = svg("svg", { viewBox: `0 0 ${x.width} 40`, "aria-hidden": "true" }, background(x, lit, 40), lines(advice, x, 40), p.openings.map((o) => pore(x, o, 20, 13)), p.verdict === "leave" ? null : [mark(second, "second"), mark(best, "best")]);
  const names = group.map((q) => q.name);
  const who = names.length > 3 ? `${names.slice(0, 2).join(", ")} and ${names.length - 2} more` : names.join(", ");
  const m = mixed.get(p.id);
  const what = p.verdict === "leave" || !best ? null
    : p.feed_strength_mg_l ? `${m ? strength(m) : `${round(p.feed_strength_mg_l)} mg/L feed`}, ${passes(p.passes)}` : `plain water, ${passes(p.passes)}`;
  const when = best && p.verdict !== "leave" ? span(best) : p.due ? `due ${day(p.due)}, ${clock(p.due)}` : "no window";
  return el("li", {}, el("details", {},
    el("summary", {},
      el("span", { class: "who" }, el("span", { class: "when" }, el("span", { class: `verdict ${p.verdict}` }, WORD[p.verdict]), ` ${when}`), el("span", { class: "names" }, who), el("small", {}, what ? `${what} ` : null, el("span", { class: "why-mark" }, "why"))),
      picture),
    why(p, group, says)));
}

const weekday = (time, zone) => day(inZone(Date.parse(time), zone)).slice(0, 3);

/** Hours, light and humidity above the rows. */
function axis(advice, x, lit, readings, zone) {
  const labels = hours(advice).filter(({ time }) => x(time) > 8 && x(time) < x.width - 8).map(({ time, hour }) => Object.assign(svg("text", { class: "axis", x: x(time), y: 79, "text-anchor": "middle" }), { textContent: hour ? `${hour} h` : weekday(time, zone) }));
  const inside = readings.filter((r) => Date.parse(r.time) >= Date.parse(advice.from) && Date.parse(r.time) <= Date.parse(advice.to));
  const line = inside.map((r) => `${x(r.time).toFixed(1)},${(62 - 0.6 * r.rh_percent).toFixed(1)}`);
  return svg("svg", { viewBox: `0 0 ${x.width} 84`, "aria-hidden": "true" }, background(x, lit, 64), lines(advice, x, 64), labels, line.length > 1 ? svg("polyline", { class: "rh", points: line.join(" ") }) : null);
}

const KEY = [["pore", "stomata open"], ["best", "best window"], ["second", "second best"], ["lit", "light"], ["night", "dark"], ["rh", "humidity, 0–100 %"]];

/** The next thing to do, in large letters. */
function next(rows) {
  const due = rows.filter((g) => ["feed", "water-only"].includes(g[0].verdict) && g[0].windows[0]);
  if (!due.length) return el("div", { class: "next" }, el("p", { class: "large" }, el("strong", {}, "Nothing to spray in these hours.")));
  const at = (g) => Date.parse(g[0].windows[0].start);
  const byWindow = [...new Set(due.map((g) => span(g[0].windows[0])))].map((w) => due.filter((g) => span(g[0].windows[0]) === w));
  const size = (list) => list.reduce((sum, g) => sum + g.length, 0);
  const first = byWindow.reduce((a, b) => (at(b[0]) < at(a[0]) ? b : a));
  const most = byWindow.reduce((a, b) => (size(b) > size(a) ? b : a));
  const line = (list) => [el("strong", {}, span(list[0][0].windows[0])), `: ${count(size(list), "plant")}`];
  return el("div", { class: "next" },
    el("p", {}, "Next"),
    el("p", { class: "large" }, line(first)),
    first === most ? null : el("p", {}, "Most at once: ", line(most)));
}

/**
 * The whole ribbon. `lit` holds the times of light of each area, `mixed` what each plant's mister
 * holds; the scale is that of the first area.
 */
export function ribbon({ advice, lit, readings, areas, plan, zone }) {
  const says = (words) => plainly(words, zone);
  const x = scale(advice);
  const light = new Map(lit);
  const mixed = new Map((plan?.sittings ?? []).flatMap((s) => s.steps).flatMap((s) => s.groups.flatMap((g) => g.plants.map((p) => [p.id, s]))));
  const area = areas.find((a) => light.has(a.id)) ?? areas[0];
  const here = readings.filter((r) => !r.area || r.area === area.id);
  const during = here.filter((r) => Date.parse(r.time) >= Date.parse(advice.from) - 36e5 && Date.parse(r.time) <= Date.parse(advice.to)).map((r) => r.rh_percent);
  const [low, high] = [Math.min(...during), Math.max(...during)];
  const sample = (name) => svg("svg", { viewBox: "0 0 28 14", "aria-hidden": "true" }, name === "rh" ? svg("polyline", { class: "rh", points: "1,11 10,4 18,9 27,3" }) : name === "pore" ? pore((v) => v, { start: 1, end: 27 }, 7, 6) : svg("rect", { class: name, x: 2, y: 1, width: 24, height: 12, rx: 4 }));
  const rows = groups(advice);
  return [
    next(rows),
    el("p", { class: "help" }, `${advice.site}, ${day(advice.from)} ${clock(advice.from)} to ${day(advice.to)} ${clock(advice.to)}. Tap a row to see why.`),
    el("ul", { class: "legend" }, KEY.map(([name, text]) => el("li", {}, sample(name), text))),
    el("ul", { class: "ribbon" },
      el("li", {}, el("div", { class: "scalebar" }, el("span", { class: "help" }, `${area.name}${during.length ? `: humidity ${low === high ? round(low) : `${round(low)} to ${round(high)}`} %` : ""}`), axis(advice, x, light.get(area.id) ?? [], here, zone))),
      rows.map((g) => row(g, x, light.get(g[0].area) ?? [], advice, mixed, says))),
    el("details", { class: "more" }, el("summary", {}, "Cautions and sources"),
      el("ul", {}, advice.cautions.map((c) => el("li", {}, says(c.message)))),
      el("ul", { class: "src" }, advice.sources.map((s) => el("li", {}, s.work, s.doi ? ` doi:${s.doi}` : "", ` [${s.key}; read: ${s.read}]`)))),
  ];
}

/** Calls when the width of the drawing changes. */
export const onWidth = (redraw) => narrow.addEventListener("change", redraw);

/** The moment an answer was asked, on the clock of the place. */
export function asked(moment, zone) {
  try { const t = inZone(moment, zone); return `${day(t)}, ${clock(t)}`; } catch { return new Date(moment).toISOString().slice(0, 16).replace("T", " "); }
}
