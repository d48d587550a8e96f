// The choice of one area, for Today and Round.
import { state } from "./keep.js";
import { el } from "./make.js";

export function areas(out, only, choose) {
  const some = state.site.areas.filter((a) => state.plants.some((p) => p.area === a.id));
  const chip = (id, name) => el("button", { type: "button", class: "choice", "aria-pressed": String(only === id), onclick: () => choose(id) }, name);
  out.replaceChildren(...(some.length > 1 ? [el("div", { class: "chips", role: "group", "aria-label": "Area" }, chip("", "All"), some.map((a) => chip(a.id, a.name ?? a.id)))] : []));
}
