// The collection, one plant an entry.
import { ask, show } from "./ask.js";
import { button, of } from "./fields.js";
import { plantHistory } from "./history.js";
import { save, state } from "./keep.js";
import { count, el } from "./make.js";
import { short } from "./names.js";
import { verdict } from "./verdicts.js";

const same = (...list) => list.map((w) => [w, w]);
const SETTING = [["mounted", "mounted"], ["basket", "in a basket"], ["potted", "potted"], ["landscape", "planted out"]];
const STANDING = same("established", "ordinary", "seedling", "weak", "rootless");
const SIZE = [["small", "small, 100 cm² of leaf"], ["medium", "medium, 400 cm²"], ["large", "large, 1500 cm²"], ["specimen", "specimen, 5000 cm²"]];
const GROWTH = [["active", "growing"], ["resting", "resting"], ["unknown", "not looked at"]];
const LEAF = [["", "as the records say"], ...same("thin", "intermediate", "thick", "terete", "leafless")];

const word = (list, key) => list.find(([k]) => k === key)?.[1] ?? key;

function nextId() {
  let n = state.plants.length + 1;
  const id = () => `P${String(n).padStart(2, "0")}`;
  while (state.plants.some((p) => p.id === id())) n += 1;
  return id();
}

/** Adds a plant of this name. */
export function plant(name) {
  const last = state.plants.at(-1);
  const p = { id: nextId(), name, area: last?.area ?? state.site.areas[0].id, setting: last?.setting ?? "mounted", standing: "ordinary", size: "medium", growth: "unknown" };
  state.plants.push(p);
  save();
  return p;
}

const COLUMNS = ["id", "name", "area", "setting", "standing", "size", "growth", "leaf", "leaf_area_cm2", "last_fed", "last_flush", "pot_l", "root_feed_mg_week", "bench", "notes"];

/** A table as text (RFC 4180). */
function written(columns, rows) {
  const quote = (v) => { const s = String(v ?? ""); return /[",\n\r]|^\s|\s$/.test(s) ? `"${s.replaceAll('"', '""')}"` : s; };
  return [columns, ...rows.map((r) => columns.map((c) => r[c]))].map((r) => `${r.map(quote).join(",")}\n`).join("");
}

/** Hands over the list as a file. */
function download() {
  const a = el("a", { href: URL.createObjectURL(new Blob([written(COLUMNS, state.plants)], { type: "text/csv" })), download: "plants.csv" });
  a.click();
  setTimeout(() => URL.revokeObjectURL(a.href), 1e4);
}

/** `keep` is called before something is removed, `answered` gives the advice there is; `open` is the id of the plant shown open. */
export function plants(form, status, keep, answered, open) {
  const list = state.plants;
  const areas = state.site.areas.map((a) => [a.id, a.name ?? a.id]);
  const redraw = (id) => plants(form, status, keep, answered, id);

  function entry(p) {
    const known = el("p", { class: "help" });
    const title = el("span");
    const titled = () => title.replaceChildren(p.name || "no name yet", el("small", {}, `${p.id} · ${word(areas, p.area)} · ${word(SETTING, p.setting)}, ${p.standing}${p.growth === "resting" ? ", resting" : ""}`));
    const changed = () => titled();
    const look = async () => {
      titled();
      known.textContent = "";
      if (!p.name) return;
      try { known.textContent = short(await ask("genus", { query: p.name })); } catch { /* the look-up says it, if asked */ }
    };
    const renamed = () => {
      const twin = list.some((o) => o !== p && o.id === p.id);
      show(status, !p.id ? "A plant needs an id." : twin ? `${p.id} is another plant already; give each an id of its own.` : "", !p.id || twin);
      titled();
    };
    const said = el("div", {});
    const past = el("div", {});
    const fill = () => {
      if (box.children.length > 1) { plantHistory(p, past); look(); return; }
      box.append(past, said,
        el("details", { class: "more", open: !p.name }, el("summary", {}, "Change this plant"), el("div", { class: "fields" },
          of(p, "name", "Name on its label", "text", { wide: true, changed: look, hint: known }),
          of(p, "area", "Area", areas.some(([k]) => k === p.area) ? areas : [[p.area, `${p.area} (no such area)`], ...areas], { changed, wide: true }),
          of(p, "setting", "Grown", SETTING, { changed }), of(p, "standing", "Standing", STANDING, { changed }), of(p, "growth", "Growth", GROWTH, { changed }), of(p, "id", "Id", "text", { changed: renamed }), of(p, "size", "Size", SIZE, { wide: true }),
          of(p, "pot_l", "Pot, L"), of(p, "root_feed_mg_week", "Feed at the root, mg a week"), of(p, "leaf_area_cm2", "Leaf, one side, cm²"), of(p, "leaf", "Leaf", LEAF), of(p, "bench", "Bench", "text"),
          of(p, "last_fed", "Last fed, date", "text", { such: "2026-06-18" }), of(p, "last_flush", "Last flushed, date", "text", { such: "2026-06-01" }), of(p, "notes", "Notes", "text", { wide: true })),
          el("div", { class: "bar" }, button("Remove this plant", async () => { await keep(`${p.name || p.id} is removed.`); list.splice(list.indexOf(p), 1); save(); redraw(); }))));
      const told = answered().find((q) => q.id === p.id);
      if (told) said.append(...verdict(told, state.site.time_zone));
      plantHistory(p, past);
      look();
    };
    const box = el("details", { class: "item", ontoggle: () => { if (box.open) fill(); } }, el("summary", {}, title));
    box.dataset.plant = p.id;
    titled();
    if (p.id === open) { fill(); box.open = true; }
    return box;
  }

  const found = el("p", { class: "help", role: "status" });
  const boxes = list.map((p) => [p, entry(p)]);
  const byArea = [...new Map(list.map((p) => [p.area, word(areas, p.area)]))];
  const groups = byArea.map(([area, name]) => {
    const inside = boxes.filter(([p]) => p.area === area).map(([, box]) => box);
    const group = el("details", { class: "area", open: byArea.length === 1 && inside.length < 16 || list.some((p) => p.id === open && p.area === area) }, el("summary", {}, el("span", {}, name, el("small", {}, count(inside.length, "plant")))), inside);
    return [group, inside];
  });
  const filter = (text) => {
    const want = text.trim().toLowerCase();
    const hits = boxes.filter(([p, box]) => { box.hidden = !`${p.id} ${p.name} ${word(areas, p.area)}`.toLowerCase().includes(want); return !box.hidden; });
    for (const [group, inside] of groups) { group.hidden = inside.every((b) => b.hidden); if (want && !group.hidden) group.open = true; }
    found.textContent = want ? `${hits.length} of ${list.length}` : "";
  };
  form.onsubmit = (e) => e.preventDefault();
  form.replaceChildren(...[
    list.length > 8 ? el("div", { class: "fields" }, el("div", { class: "wide" }, el("label", { for: "find-plant" }, "Find a plant of yours"), el("input", { id: "find-plant", type: "search", autocomplete: "off", oninput: (e) => filter(e.target.value) })), found) : null,
    el("div", {}, groups.map(([group]) => group)),
    el("div", { class: "bar" }, button("Add a plant", () => { const p = plant(""); redraw(p.id); form.querySelector("details.item[open] input")?.focus(); }, { class: "main" }),
      list.length ? button("Save the list as CSV", download) : null),
  ].filter(Boolean));
}
