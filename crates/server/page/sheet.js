// The round sheet: what to mix, then every mister fill with a box to tick. It prints on one page.
import { bounds, el, round } from "./ask.js";
import { ticks } from "./keep.js";

const clock = (time) => time.slice(11, 16);
const day = (time) => time.slice(0, 10);

function fill(f, i, tick, key) {
  const parts = [];
  if (f.pour_out_ml > 0.5) parts.push(`pour out ${round(f.pour_out_ml)} mL`);
  if (f.feed_ml > 0) parts.push(`feed ${round(f.feed_ml)} mL`);
  if (f.top_up_ml > 0) parts.push(`water ${round(f.top_up_ml)} mL`);
  if (!parts.length) parts.push("use what is left");
  return box(`Fill ${i + 1}: ${parts.join(" + ")}; spray ${round(f.spray_ml)} mL`, tick, key);
}

function box(words, tick, key) {
  return el("li", {}, el("label", {}, el("input", { type: "checkbox", checked: tick.has(key), onchange: (e) => tick.put(key, e.target.checked) }), words));
}

function group(g, tick, key) {
  return el("div", { class: "group" },
    el("p", {}, el("strong", {}, `${g.area}: ${g.group}`), ` · ${clock(g.start)}–${clock(g.end)}`),
    el("ul", { class: "ticks" }, g.plants.map((p) => box(`${p.id} ${p.name}`, tick, `${key}p${p.id}`))),
    g.runner_up ? el("p", { class: "help no-print" }, g.runner_up) : null);
}

function step(s, tick, key) {
  const strength = s.feed_strength_mg_l > 0 ? `${round(s.feed_strength_mg_l)} mg/L (${round(s.n_mg_l)} ppm N, reads ${bounds(s.ec25_us_cm)} µS/cm)` : "Plain water";
  return el("div", { class: "step" },
    el("h4", {}, `${strength}, ${s.passes === 1 ? "one pass" : `${s.passes} passes, dry in between`}`),
    el("ul", { class: "ticks fills" }, s.fills.map((f, i) => fill(f, i, tick, `${key}f${i}`))),
    s.groups.map((g, i) => group(g, tick, `${key}g${i}`)));
}

export function sheet(plan) {
  const tick = ticks(`${plan.site} ${plan.from}`);
  const b = plan.bucket;
  const amount = b && (b.mass_g === undefined ? `${round(b.volume_ml)} mL` : `${round(b.mass_g)} g`);
  return [
    el("p", {}, `${plan.site}, ${day(plan.from)} ${clock(plan.from)} to ${day(plan.to)} ${clock(plan.to)}`),
    b ? el("div", { class: "bucket" },
      el("p", {}, el("strong", {}, `Bucket: ${amount} ${b.product} in ${round(b.water_l)} L of water`)),
      el("p", {}, `${round(b.feed_strength_mg_l)} mg/L = ${round(b.n_mg_l)} ppm N; a meter reads ${bounds(b.ec25_us_cm)} µS/cm at 25 °C (water alone ${round(b.water_ec25_us_cm)}); use within ${round(b.keeps_hours)} h`),
      el("ul", { class: "ticks" }, box("Mixed and measured", tick, "bucket"))) : el("p", {}, "No plant is fed: nothing to mix."),
    ...plan.sittings.map((s, i) => el("div", { class: "sitting" },
      el("h3", {}, `${s.part_of_day.replaceAll("-", " ")}, ${day(s.start)} ${clock(s.start)}–${clock(s.end)}`),
      s.steps.map((t, j) => step(t, tick, `s${i}t${j}`)),
      s.left_over_ml > 1 ? el("p", {}, `Left over: ${round(s.left_over_ml)} mL at ${round(s.left_over_mg_l)} mg/L`) : null)),
    plan.alone.length ? el("div", {}, el("h3", {}, "Nothing now"), el("ul", {}, plan.alone.map((a) => el("li", {}, el("strong", {}, a.plants.map((p) => `${p.id} ${p.name}`).join(", ")), `: ${a.reason.says}`)))) : null,
    el("h3", {}, "Care"),
    el("ul", {}, plan.cautions.map((c) => el("li", {}, c.says))),
  ].filter(Boolean);
}
