// The round sheet: what to mix, then every mister fill with a box to tick. It prints.
import { logging } from "./given.js";
import { ticks } from "./keep.js";
import { button } from "./fields.js";
import { amount, beside, clock, day, el, meter, ml, percent, plainly, round, span, strength } from "./make.js";

/** Eighths of a mister as its marks show them. */
function mark(eighths) {
  const halves = Math.round(eighths * 2);
  if (halves >= 16) return "full";
  if (halves === 0) return "below ¼/8";
  return `${Math.floor(halves / 2) || ""}${halves % 2 ? "½" : ""}/8`;
}

function fill(f, i, box, key) {
  const parts = [];
  if (f.pour_out_ml > 0.5) parts.push(`pour out ${ml(f.pour_out_ml)}`);
  if (f.left_in_mister_ml - f.pour_out_ml > 0.5) parts.push(`${ml(f.left_in_mister_ml - f.pour_out_ml)} left in it`);
  if (f.feed_ml > 0) parts.push(`${ml(f.feed_ml)} from the bucket (to ${mark(f.feed_to_eighths)})`);
  if (f.top_up_ml > 0) parts.push(`top up with ${ml(f.top_up_ml)} water (to ${mark(f.full_to_eighths)})`);
  return box([el("strong", {}, `Fill ${i + 1}: `), `${parts.join(", ")}; spray ${ml(f.spray_ml)}`], key);
}

function group(g, names, box, key) {
  const dry = g.dry_minutes ? `dry after ${round(g.dry_minutes)} min` : "stays moist at first";
  return el("div", { class: "group" },
    el("p", {}, el("strong", {}, names.get(g.area) ?? g.area), g.bench ? ` · ${g.bench}` : "", ` · ${g.group} · ${span(g)}`),
    el("ul", { class: "ticks" }, g.plants.map((p) => box(`${p.id} ${p.name}`, `${key}p${p.id}`, p.id))),
    el("details", { class: "more no-print" }, el("summary", {}, "Why"),
      el("ul", {}, g.reasons.map((r) => el("li", {}, r.message))),
      el("p", {}, `Chance of visible residue ${percent(g.residue_probability)}; ${dry}.`),
      g.runner_up ? el("p", {}, `Else ${span(g.runner_up)}: chance of visible residue ${percent(g.runner_up.residue_probability)}${g.runner_up.costs ? `; ${g.runner_up.costs}` : ""}.`) : null));
}

function step(s, names, box, key) {
  const what = s.feed_strength_mg_l > 0 ? `${strength(s)}, meter ${meter(s.ec25_us_cm)}` : "Plain water";
  return el("div", { class: "step" },
    el("h4", {}, `${what}; ${s.passes === 1 ? "one pass" : `${s.passes} passes, dry in between`}`),
    el("ul", { class: "ticks fills" }, s.fills.map((f, i) => fill(f, i, box, `${key}f${i}`))),
    s.groups.map((g, i) => group(g, names, box, `${key}g${i}`)));
}

/** What to weigh or measure, and into how much water. */
function mix(b) {
  const s = b.stock;
  const more = b.with?.length ? [el("p", {}, "With: ", el("strong", {}, beside(b)))] : [];
  return [...product(b, s), ...more];
}

function product(b, s) {
  if (!s) return [el("p", { class: "large" }, "Bucket: ", el("strong", {}, `${amount(b)} ${b.product}`), ` in ${round(b.water_l)} L of water`)];
  return [
    el("p", {}, "Stock solution: ", el("strong", {}, `${amount(s)} ${b.product}`), ` made up to ${ml(s.made_up_to_ml)}; keeps ${round(s.keeps_days)} days closed, dark and cool.`),
    el("p", { class: "large" }, "Bucket: ", el("strong", {}, `${round(s.take_ml, 4)} mL of the stock`), `, filled up to ${ml(b.water_l * 1000)} with water`),
  ];
}

/** The sheet of a plan; `areas` gives the names of its areas, `progress` is called with the number ticked. */
export function sheet(plan, areas, zone, progress) {
  const tick = ticks(`${plan.site} ${plan.from}`);
  const names = new Map(areas.map((a) => [a.id, a.name ?? a.id]));
  const all = [];
  const logs = [];
  const report = () => { progress(all.filter((b) => b.checked).length, all.length); for (const l of logs) l.changed(); };
  const logged = (s, i) => { const l = logging(plan, i, tick, all); logs.push(l); return l.node; };
  const box = (words, key, plant) => {
    const input = el("input", { type: "checkbox", checked: tick.has(key), onchange: (e) => { tick.put(key, e.target.checked); report(); } });
    if (plant) { input.dataset.plant = plant; input.dataset.sitting = /^s(\d+)/.exec(key)[1]; }
    all.push(input);
    return el("li", {}, el("label", {}, input, el("span", {}, words)));
  };

  const b = plan.bucket;
  const says = (words) => plainly(words, zone);
  const made = [
    el("p", { class: "sheet-head" }, el("strong", {}, plan.site), `, ${day(plan.from)} ${plan.from.slice(0, 4)}, ${clock(plan.from)} to ${day(plan.to)}, ${clock(plan.to)}`),
    b ? el("div", { class: "bucket" },
      mix(b),
      el("p", {}, `${strength(b)}. A meter reads ${meter(b.ec25_us_cm)} at 25 °C, of which the water alone is ${round(b.water_ec25_us_cm / 1000, 2)} mS/cm. Use within ${round(b.keeps_hours)} h.`),
      b.surplus ? el("p", {}, b.surplus.reason.message) : null,
      b.urea_n_mg_l > 0 ? el("p", {}, `A meter does not see its urea: ${round(b.urea_n_mg_l)} ppm N.`) : null,
      el("ul", { class: "ticks" }, box("Mixed and measured", "bucket"))) : el("p", { class: "bucket" }, "No plant is fed: nothing to mix."),
    el("div", { class: "flow" },
      plan.sittings.map((s, i) => el("details", { class: "sitting", open: i === 0 },
        el("summary", {}, el("h3", {}, `${(s.part_of_day[0].toUpperCase() + s.part_of_day.slice(1)).replaceAll("-", " ")}: ${span(s)}, about ${round(s.minutes, 2)} min`)),
        (s.notes ?? []).map((n) => el("p", {}, says(n.message))),
        s.bucket ? el("div", {}, mix(s.bucket)) : null,
        s.steps.map((t, j) => step(t, names, box, `s${i}t${j}`)),
        s.left_over_ml > 1 ? el("p", {}, `Left in the mister: ${ml(s.left_over_ml)} at ${round(s.left_over_mg_l)} mg/L feed. Pour it away and rinse.`) : null,
        logged(s, i))),
      plan.alone.length ? el("div", {}, el("h3", {}, "Nothing now"), el("ul", {}, plan.alone.map((a) => el("li", {}, el("strong", {}, a.plants.map((p) => `${p.id} ${p.name}`).join(", ")), `: ${says(a.reason.message)}`)))) : null,
      el("div", {}, el("h3", {}, "Care"), el("ul", {}, plan.cautions.map((c) => el("li", {}, says(c.message)))))),
    el("p", { class: "no-print" }, button("Clear all ticks", () => { tick.clear(); for (const i of all) i.checked = false; report(); })),
  ];
  report();
  return made;
}
