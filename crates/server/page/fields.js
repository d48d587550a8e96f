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
  return el("div", { class: options.wide ? "wide" : undefined }, el("label", { for: id }, label), input, options.hint);
}

/** Binds a field to a key of an object. */
export const of = (object, key, label, kind = "number", options = {}) => field(label, kind, () => object[key], (v) => {
  if (v === null || v === "") delete object[key]; else object[key] = v;
}, options);

export function group(title, ...fields) {
  return el("fieldset", {}, el("legend", {}, title), el("div", { class: "fields" }, fields));
}

export const button = (words, onclick, attributes = {}) => el("button", { type: "button", onclick, ...attributes }, words);

/** A button that opens files of this device and hands over their names and texts. */
export function files(words, accept, take, failed) {
  const id = `f${(counter += 1)}`;
  return el("span", { class: "files" }, el("input", { type: "file", id, multiple: true, accept, onchange: async (e) => {
    try {
      const list = [...e.target.files];
      const large = list.find((f) => f.size > 8 << 20);
      if (large) throw new Fault(`${large.name}: larger than 8 MB; give a shorter series`);
      await take(await Promise.all(list.map(async (f) => ({ name: f.name, text: await f.text() }))));
    } catch (error) { failed(error); }
    e.target.value = "";
  } }), el("label", { class: "button", for: id }, words));
}

/** Warnings and assumptions of an answer. */
export function notices(list) {
  return list.length ? el("ul", { class: "why" }, list.map((n) => el("li", {}, n.message ?? n.ceiling, n.sources?.length ? el("span", { class: "src" }, ` (${n.sources.join(", ")})`) : null))) : null;
}
