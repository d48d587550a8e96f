// The day ribbon: one row for each group of plants that get the same, openings drawn as pores.
import { el, round } from "./ask.js";

const W = 640;
const NS = "http://www.w3.org/2000/svg";

function svg(name, attributes, ...children) {
  const node = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
  node.append(...children.filter((c) => c !== null && c !== undefined));
  return node;
}

const clock = (time) => time.slice(11, 16);
const weekday = (time) => new Date(`${time.slice(0, 10)}T12:00Z`).toLocaleDateString("en-GB", { weekday: "short", timeZone: "UTC" });
const span = (w) => `${weekday(w.start)} ${clock(w.start)}–${clock(w.end)}`;
const WORD = { feed: "Feed", wait: "Wait", "water-only": "Water only", leave: "Leave alone" };

/** Plants with the same verdict, openings, window and strength belong to one row. */
export function groups(advice) {
  const map = new Map();
  for (const p of advice.plants) {
    const w = p.windows[0];
    const key = JSON.stringify([p.area, p.verdict, w?.start, w?.end, p.feed_strength_mg_l, p.passes, p.openings.map((o) => [o.start, o.end]), p.verdict === "feed" ? null : p.reasons[0]?.code]);
    map.set(key, [...(map.get(key) ?? []), p]);
  }
  const order = ["feed", "water-only", "wait", "leave"];
  return [...map.values()].sort((a, b) => order.indexOf(a[0].verdict) - order.indexOf(b[0].verdict) || String(a[0].windows[0]?.start ?? "~").localeCompare(b[0].windows[0]?.start ?? "~"));
}

function scale(advice) {
  const [from, to] = [Date.parse(advice.from), Date.parse(advice.to)];
  return (time) => Math.max(0, Math.min(W, ((Date.parse(time) - from) / (to - from)) * W));
}

function background(x, lit, height) {
  return [svg("rect", { class: "night", width: W, height, rx: 6 }), ...lit.filter((s) => x(s.end) > x(s.start)).map((s) => svg("rect", { class: "lit", x: x(s.start), width: x(s.end) - x(s.start), height }))];
}

/** An opening as a pore: pointed at both ends, wide in the middle. */
function pore(x, o, middle, half) {
  const [a, b] = [x(o.start), x(o.end)];
  const m = (a + b) / 2;
  const h = half * (0.35 + 0.65 * (o.probability ?? 1));
  return svg("path", { class: "pore", d: `M${a} ${middle}Q${m} ${middle - 2 * h} ${b} ${middle}Q${m} ${middle + 2 * h} ${a} ${middle}Z`, opacity: 0.45 + 0.5 * (o.probability ?? 1) });
}

function row(group, x, lit) {
  const p = group[0];
  const best = p.windows[0];
  const second = p.windows[1];
  const mark = (w, name) => w && svg("rect", { class: name, x: x(w.start), width: Math.max(4, x(w.end) - x(w.start)), y: 7, height: 26, rx: 8 });
  const picture = svg("svg", { viewBox: `0 0 ${W} 40`, "aria-hidden": "true" }, ...background(x, lit, 40), ...p.openings.map((o) => pore(x, o, 20, 13)), mark(second, "second"), mark(best, "best"));
  const names = group.map((q) => q.name);
  const who = names.length > 3 ? `${names.slice(0, 2).join(", ")} and ${names.length - 2} more` : names.join(", ");
  const what = best && p.verdict !== "leave"
    ? `${span(best)}${p.feed_strength_mg_l ? `, ${round(p.feed_strength_mg_l)} mg/L` : ""}, ${p.passes === 1 ? "one pass" : `${p.passes} passes`}`
    : p.due ? `due ${weekday(p.due)} ${p.due.slice(0, 10)} ${clock(p.due)}` : "no window";
  return el("li", {}, el("details", {},
    el("summary", {}, el("span", { class: "who" }, who, el("small", {}, el("span", { class: `verdict ${p.verdict}` }, WORD[p.verdict]), ` ${what} `, el("span", { class: "more" }, "reasons"))), picture),
    names.length > 1 ? el("p", {}, `Plants: ${group.map((q) => `${q.id} ${q.name}`).join("; ")}`) : null,
    best ? el("p", {}, `Best ${span(best)}: residue visible with probability ${round(best.residue_probability)}${best.dry_minutes ? `, dry after about ${round(best.dry_minutes)} min` : ""}.${second ? ` Next best ${span(second)}${second.costs ? `: ${second.costs}` : ""}.` : ""}`) : null,
    el("ul", { class: "why" }, p.reasons.map((r) => el("li", {}, r.says, el("span", { class: "src" }, ` (${r.code}${r.sources.length ? `; ${r.sources.join(", ")}` : ""})`)))),
    p.unknowns.length ? el("p", {}, "Not known: ", p.unknowns.map((u) => `${u.what} (assumed ${u.assumed}; ${u.measure})`).join("; ")) : null,
    p.would_help?.length ? el("p", {}, "Would help: ", p.would_help.map((r) => `${r.change}: ${span(r.window)}`).join("; ")) : null));
}

/** Hours and humidity above the rows. */
function axis(advice, x, lit, readings) {
  const parts = [];
  const offset = advice.from.slice(19);
  const start = new Date(Date.parse(advice.from));
  for (let t = Math.ceil(start / 3.6e6) * 3.6e6; t <= Date.parse(advice.to); t += 3.6e6) {
    const local = new Date(t + minutes(offset) * 6e4);
    if (local.getUTCHours() % 6) continue;
    const at = x(new Date(t).toISOString());
    parts.push(svg("line", { class: "grid", x1: at, x2: at, y1: 0, y2: 64 }), Object.assign(svg("text", { class: "axis", x: Math.max(17, Math.min(W - 17, at)), y: 78, "text-anchor": "middle" }), { textContent: `${String(local.getUTCHours()).padStart(2, "0")}:00` }));
  }
  const line = readings.filter((r) => Date.parse(r.time) >= Date.parse(advice.from) && Date.parse(r.time) <= Date.parse(advice.to)).map((r) => `${x(r.time).toFixed(1)},${(62 - 0.6 * r.rh_percent).toFixed(1)}`);
  return svg("svg", { viewBox: `0 0 ${W} 82`, "aria-hidden": "true" }, ...background(x, lit, 64), ...parts, line.length > 1 ? svg("polyline", { class: "rh", points: line.join(" ") }) : null);
}

function minutes(offset) {
  const m = /^([+-])(\d\d):(\d\d)/.exec(offset);
  return m ? (m[1] === "-" ? -1 : 1) * (60 * Number(m[2]) + Number(m[3])) : 0;
}

const KEY = [["pore", "stomata open"], ["best", "best window"], ["second", "second best"], ["lit", "light"], ["night", "dark"], ["rh", "humidity"]];

/** The whole ribbon. `lit` holds the times of light of each area; the scale is that of the first. */
export function ribbon(advice, lit, readings, area) {
  const x = scale(advice);
  const sample = (name) => svg("svg", { viewBox: "0 0 28 14", "aria-hidden": "true" }, name === "rh" ? svg("polyline", { class: "rh", points: "1,11 10,4 18,9 27,3" }) : name === "pore" ? pore((v) => v, { start: 1, end: 27 }, 7, 6) : svg("rect", { class: name, x: 2, y: 1, width: 24, height: 12, rx: 4 }));
  const humid = readings.filter((r) => !r.area || r.area === area.id).map((r) => r.rh_percent);
  return [
    el("p", { class: "help" }, `${advice.site}, ${advice.from.slice(0, 10)} ${clock(advice.from)} to ${advice.to.slice(0, 10)} ${clock(advice.to)}${humid.length ? `; humidity ${round(Math.min(...humid))} to ${round(Math.max(...humid))} %` : ""}. Open a row for its reasons.`),
    el("ul", { class: "legend" }, KEY.map(([name, text]) => el("li", {}, sample(name), text))),
    el("ul", { class: "ribbon" },
      el("li", {}, el("div", { class: "scalebar" }, el("span", { class: "help" }, `${area.name}: light, dark and humidity`), axis(advice, x, lit.get(area.id) ?? [], readings.filter((r) => !r.area || r.area === area.id)))),
      groups(advice).map((g) => row(g, x, lit.get(g[0].area) ?? []))),
    el("details", {}, el("summary", {}, "Cautions and sources"),
      el("ul", { class: "why" }, advice.cautions.map((c) => el("li", {}, c.says))),
      el("ul", { class: "why" }, advice.sources.map((s) => el("li", {}, s.work, s.doi ? ` doi:${s.doi}` : "", el("span", { class: "src" }, ` [${s.key}; read: ${s.read}]`))))),
  ];
}
