// Parts of forms. Each field is bound to one value of what is kept; an empty field is no value.
import { Fault } from "./fault.js";
import { save } from "./keep.js";
import { el } from "./make.js";

let counter = 0;

/**
 * One labelled field. `kind` is number, text, area (lines), tick, time, or a list of choices.
 * Options: such (an example), wide, changed (called with the value once it is settled), hint (a node below).
 */
export function field(label, kind, read, write, options = {}) {
  const id = `f${(counter += 1)}`;
  const put = (value) => { write(value); save(); };
  const settled = (e) => options.changed?.(e.target.value);
  if (kind === "tick") {
    return el("label", { class: "tick wide", for: id }, el("input", { type: "checkbox", id, checked: Boolean(read()), onchange: (e) => put(e.target.checked) }), label);
  }
  let input;
  if (Array.isArray(kind)) {
    input = el("select", { id, onchange: (e) => { put(e.target.value || null); settled(e); } }, kind.map(([value, text]) => el("option", { value, selected: value === (read() ?? "") }, text)));
  } else if (kind === "area") {
    input = el("textarea", { id, rows: "3", onchange: (e) => put(e.target.value) });
    input.value = read() ?? "";
  } else {
    input = el("input", { id, type: kind === "time" ? "time" : "text", inputmode: kind === "number" ? "decimal" : undefined, autocomplete: "off", placeholder: options.such, onchange: settled, oninput: (e) => {
      const text = e.target.value.trim();
      if (kind !== "number") { put(text || null); return; }
      const value = Number(text.replace(",", ".").replace("−", "-"));
      const bad = text !== "" && !Number.isFinite(value);
      e.target.setAttribute("aria-invalid", String(bad));
      if (!bad) put(text === "" ? null : value);
    } });
    input.value = read() ?? "";
  }
  if (options.key) input.dataset.key = options.key;
  return el("div", { class: options.wide ? "wide" : undefined }, el("label", { for: id }, label), input, options.hint);
}

/** Binds a field to a key of an object. */
export const of = (object, key, label, kind = "number", options = {}) => field(label, kind, () => object[key], (v) => {
  if (v === null || v === "") delete object[key]; else object[key] = v;
}, { key, ...options });

export function group(title, ...fields) {
  return el("fieldset", {}, el("legend", {}, title), el("div", { class: "fields" }, fields));
}

export const button = (words, onclick, attributes = {}) => el("button", { type: "button", onclick, ...attributes }, words);

/** The names and texts of files. */
export async function taken(list) {
  const large = list.find((f) => f.size > 8 << 20);
  if (large) throw new Fault(`${large.name}: larger than 8 MB; give a shorter series`);
  return Promise.all(list.map(async (f) => ({ name: f.name, text: await f.text() })));
}

/** A button that opens files of this device and hands over their names and texts. */
export function files(words, accept, take, failed) {
  const id = `f${(counter += 1)}`;
  return el("span", { class: "files" }, el("input", { type: "file", id, multiple: true, accept, onchange: async (e) => {
    try {
      await take(await taken([...e.target.files]));
    } catch (error) { failed(error); }
    e.target.value = "";
  } }), el("label", { class: "button", for: id }, words));
}

/** Warnings and assumptions of an answer. */
export function notices(list) {
  return list.length ? el("ul", { class: "why" }, list.map((n) => el("li", {}, n.message ?? n.ceiling, n.sources?.length ? el("span", { class: "src" }, ` (${n.sources.join(", ")})`) : null))) : null;
}

/** Marks the field that an error is about, with what is wrong below it; takes the marks away where there is none. */
export function complain(form, error) {
  for (const old of form.querySelectorAll(".fault")) old.remove();
  for (const input of form.querySelectorAll("[data-faulty]")) { input.removeAttribute("data-faulty"); input.removeAttribute("aria-invalid"); input.removeAttribute("aria-describedby"); }
  const key = error?.problem?.pointer?.split("/").filter((k) => !/^\d*$/.test(k)).at(-1);
  const input = key && form.querySelector(`[data-key="${CSS.escape(key)}"]`);
  if (!input) return false;
  const words = el("p", { class: "fault", id: `${input.id}-fault` }, [error.problem.detail, error.problem.hint].filter(Boolean).join("; "));
  input.dataset.faulty = "yes";
  input.setAttribute("aria-invalid", "true");
  input.setAttribute("aria-describedby", words.id);
  input.after(words);
  return true;
}

const askers = new WeakMap();

/** Checks a form while it is typed in: `ask` gives the answer to what is in it, or throws what is wrong. */
export function live(form, ask) {
  const known = askers.has(form);
  askers.set(form, ask);
  if (known) return;
  let turn = 0;
  form.addEventListener("input", () => {
    const mine = (turn += 1);
    setTimeout(async () => {
      if (mine !== turn) return;
      try { await askers.get(form)(); if (mine === turn) complain(form, null); } catch (error) { if (mine === turn && error.problem) complain(form, error); }
    }, 250);
  });
}
