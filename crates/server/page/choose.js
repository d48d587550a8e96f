// Choosing plants: all of the last round, an area, or one by one.
import { plantsOf, standing } from "./journal.js";
import { state } from "./keep.js";
import { count, el } from "./make.js";

/** The plants of the last round with feed. */
export function lastRound() {
  const last = standing().find((e) => e.event.kind === "round" && e.event.feed_strength_mg_l > 0);
  if (!last) return [];
  const day = last.at.slice(0, 10);
  const ids = standing().filter((e) => e.event.kind === "round" && e.at.slice(0, 10) === day).flatMap(plantsOf);
  return [...new Set(ids)];
}

/** A choice of plants, some of them chosen already. `ids()` of it gives those that are. */
export function choice(before = [], among) {
  const plants = among ?? state.plants;
  const chosen = new Set(before.filter((id) => plants.some((p) => p.id === id) || !among));
  const said = el("p", { class: "help", role: "status" });
  const boxes = new Map();
  const tell = () => {
    for (const [id, box] of boxes) box.checked = chosen.has(id);
    const ids = [...chosen];
    said.textContent = ids.length === 0 ? "No plant is chosen yet." : `${count(ids.length, "plant")}: ${ids.slice(0, 6).join(", ")}${ids.length > 6 ? " …" : ""}`;
    for (const b of quick) b.setAttribute("aria-pressed", String(b.ids.length === chosen.size && b.ids.every((id) => chosen.has(id))));
  };
  const take = (ids) => { chosen.clear(); for (const id of ids) chosen.add(id); tell(); };
  const chip = (words, ids) => Object.assign(el("button", { type: "button", class: "choice", onclick: () => take(ids) }, `${words} (${ids.length})`), { ids });
  const areas = state.site.areas.map((a) => [a.name ?? a.id, plants.filter((p) => p.area === a.id).map((p) => p.id)]);
  const round = lastRound().filter((id) => plants.some((p) => p.id === id));
  const quick = [
    ...(round.length ? [chip("All of the last round", round)] : []),
    ...areas.filter(([, ids]) => ids.length && ids.length < plants.length).map(([name, ids]) => chip(name, ids)),
    ...(plants.length ? [chip("All", plants.map((p) => p.id))] : []),
  ];
  const one = (p) => {
    const box = el("input", { type: "checkbox", onchange: (e) => { if (e.target.checked) chosen.add(p.id); else chosen.delete(p.id); tell(); } });
    boxes.set(p.id, box);
    return el("li", {}, el("label", {}, box, el("span", {}, `${p.id} ${p.name}`)));
  };
  const node = el("fieldset", { class: "choose" }, el("legend", {}, "Plants"), el("div", { class: "chips" }, quick), said,
    plants.length ? el("details", { class: "more" }, el("summary", {}, "One by one"), el("ul", { class: "ticks" }, plants.map(one))) : null);
  tell();
  return { node, ids: () => [...chosen] };
}
