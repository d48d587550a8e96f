// The list of earlier copies.
import { copies } from "./copies.js";
import { button } from "./fields.js";
import { asked, count, el } from "./make.js";

const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
const when = (key) => asked(Date.parse(key.slice(0, 24)), zone);

/** Draws the list and its summary; `back` is called with the text of the copy that is chosen. */
export async function earlier(summary, out, back) {
  const list = await copies();
  summary.textContent = list.length ? `${list.length}; the last ${when(list[0].key)}` : "none yet";
  const row = (c) => el("li", {}, el("span", {}, `${c.site || "no name"}, ${count(c.plants, "plant")}`, el("small", {}, `${when(c.key)}, ${c.why}`)), button("Put back", () => back(c.text)));
  out.replaceChildren(list.length ? el("ul", { class: "due" }, list.map(row)) : el("p", { class: "help" }, "Before anything you entered is replaced, a copy of it is kept here."));
}
