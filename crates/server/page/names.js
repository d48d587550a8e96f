// Look-up of names while they are typed; from the cached list where neither engine nor server answers.
import { ask, catalogue, Refused, show, words } from "./ask.js";
import { button } from "./fields.js";
import { el, round } from "./make.js";

const OPENS = { day: "by day", night: "by night", either: "by day or by night", unknown: "not known" };
const PATHWAY = { c3: "C3", cam: "CAM", facultative: "facultative CAM", "weak-cam": "weak CAM", variable: "differs within it", unknown: "not known" };
const say = (table, key) => table[key] ?? String(key).replaceAll("_", " ").replaceAll("-", " ");

let list = null;
async function known() {
  list ??= (await catalogue()).names;
  return list;
}

const fold = (s) => s.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase();

async function matches(text) {
  try {
    return (await ask("search", { query: text, limit: 12 })).matches;
  } catch (error) {
    if (error instanceof Refused) throw error;
    const start = fold(text.split(/\s+/)[0]);
    return (await known()).filter((n) => fold(n.name).startsWith(start)).slice(0, 12);
  }
}

function row(term, detail) {
  return detail === null || detail === undefined || detail === "" ? [] : [el("dt", {}, term), el("dd", {}, detail)];
}

function brief(match) {
  const of = match.stands_for.length ? ` of ${match.stands_for.join(match.kind === "nothogenus" ? " × " : ", ")}` : "";
  const parts = [match.kind === "genus" || match.kind === "species" ? null : match.kind + of, say(PATHWAY, match.pathway), `opens ${say(OPENS, match.opens)}`];
  return parts.filter(Boolean).join(" · ");
}

/** The result of a look-up in one line. */
export function short(t) {
  const as = t.corrected_to ? `Read as ${t.corrected_to}: opens` : "Opens";
  return `${as} ${say(OPENS, t.opens)}; ${say(PATHWAY, t.pathway)} (${t.evidence.grade}).`;
}

function report(t, add) {
  const span = (s, unit) => s && `${round(s.low)} to ${round(s.high)} ${unit}${s.n ? ` (n = ${s.n})` : ""}`;
  return [
    el("h3", {}, t.name ? el("i", {}, t.name) : t.query),
    el("p", { class: "message" }, t.message),
    el("dl", { class: "facts" },
      row("Opens", say(OPENS, t.opens) + (t.opens_peak ? `, widest ${t.opens_peak}` : "")),
      row("Pathway", say(PATHWAY, t.pathway)),
      row("Evidence", t.evidence.grade),
      row("Leaf", `${say({}, t.leaf)}${t.leaf_mm ? `, ${span(t.leaf_mm, "mm")}` : ""}`),
      row("δ¹³C", span(t.d13c_permil, "‰")),
      row("With CAM", t.cam_fraction && `${t.cam_fraction.cam_species} of ${t.cam_fraction.measured_species} measured species`),
      row("Placed in", [t.subfamily, t.tribe, t.subtribe].filter(Boolean).join(", ")),
      row("Read as", t.corrected_to),
      row("Parents", t.parents.map((p) => `${p.name} (${say(PATHWAY, p.pathway)})`).join(", ")),
      row("May mean", t.candidates.map((c) => c.name).join(", ")),
      row("Rule by leaf", t.fallback?.message)),
    el("p", {}, button("Add it to my plants", () => add(t.name ?? t.query))),
    t.notes.length ? el("ul", {}, t.notes.map((n) => el("li", {}, n))) : null,
    t.evidence.works.length ? el("details", {}, el("summary", {}, `Sources (${t.evidence.works.length})`),
      el("ul", { class: "why" }, t.evidence.works.map((w) => el("li", {}, w.work, w.doi ? ` doi:${w.doi}` : "", el("span", { class: "src" }, ` (read: ${w.read})`))))) : null,
  ].filter(Boolean);
}

/** `add` is called with a name to be added to the plants. */
export function names(add) {
  const [input, box, status, out] = ["name", "name-list", "name-status", "taxon"].map((id) => document.getElementById(id));
  let found = [];
  let chosen = -1;
  let turn = 0;

  function close() {
    box.hidden = true;
    chosen = -1;
    input.setAttribute("aria-expanded", "false");
    input.removeAttribute("aria-activedescendant");
  }
  function mark(index) {
    chosen = (index + found.length) % found.length;
    [...box.children].forEach((option, i) => option.setAttribute("aria-selected", String(i === chosen)));
    input.setAttribute("aria-activedescendant", `name-${chosen}`);
    box.children[chosen].scrollIntoView({ block: "nearest" });
  }
  async function look(name) {
    turn += 1;
    input.value = name;
    close();
    try {
      out.replaceChildren(...report(await ask("genus", { query: name }), add));
      show(status, "");
    } catch (error) {
      if (error instanceof Refused) { show(status, words(error), true); return; }
      const hit = (await known().catch(() => [])).find((n) => fold(n.name) === fold(name));
      out.replaceChildren(...(hit ? [el("h3", {}, el("i", {}, hit.name)), el("p", { class: "message" }, `${brief(hit)}. Evidence: ${hit.grade}.`)] : []));
      show(status, hit ? "No connection: this is the short answer kept on this device." : words(error), !hit);
    }
  }
  input.addEventListener("input", async () => {
    const text = input.value.trim();
    const mine = (turn += 1);
    if (!text) { close(); return; }
    try {
      const now = await matches(text);
      if (mine !== turn) return;
      found = now;
      box.replaceChildren(...found.map((m, i) => el("li", { role: "option", id: `name-${i}`, "aria-selected": "false", onmousedown: (e) => { e.preventDefault(); look(m.name); } }, el("i", {}, m.name), el("span", {}, brief(m)))));
      box.hidden = found.length === 0;
      input.setAttribute("aria-expanded", String(found.length > 0));
      input.removeAttribute("aria-activedescendant");
      chosen = -1;
      show(status, found.length ? `${found.length} ${found.length === 1 ? "name" : "names"}; arrow keys to choose.` : "No name begins so; press Enter to look it up as written.");
    } catch (error) { show(status, words(error), true); }
  });
  input.addEventListener("keydown", (e) => {
    if (e.key === "ArrowDown" && found.length && !box.hidden) { mark(chosen + 1); e.preventDefault(); }
    else if (e.key === "ArrowUp" && found.length && !box.hidden) { mark(chosen <= 0 ? found.length - 1 : chosen - 1); e.preventDefault(); }
    else if (e.key === "Escape") close();
    else if (e.key === "Enter" && input.value.trim()) { e.preventDefault(); look(chosen >= 0 ? found[chosen].name : input.value.trim()); }
  });
  input.addEventListener("blur", close);
  // over plain http no worker may keep the names: the open page itself holds them then
  setTimeout(() => known().catch(() => { /* asked again when needed */ }), 1000);
}
