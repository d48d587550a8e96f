// Tables with commas (RFC 4180), columns found by name, every fault with its line and column.
import { Fault } from "./ask.js";

function records(text, file) {
  const out = [];
  let [field, row, line, start, quoted, was] = ["", [], 1, 1, false, false];
  const push = () => { row.push(was ? field : field.trim()); field = ""; was = false; };
  const end = () => { push(); if (row.length > 1 || row[0] !== "") out.push({ line: start, row }); row = []; };
  for (let i = 0; i < text.length; i += 1) {
    const c = text[i];
    if (c === "\n") line += 1;
    if (quoted) {
      if (c !== '"') field += c;
      else if (text[i + 1] === '"') { field += c; i += 1; }
      else quoted = false;
    } else if (c === '"' && field.trim() === "") { quoted = true; was = true; field = ""; }
    else if (c === ",") push();
    else if (c === "\n") { end(); start = line; }
    else if (c !== "\r") { if (!was || c.trim()) field += c; }
  }
  if (quoted) throw new Fault(`${file}, line ${start}: a quotation mark is not closed; close it`);
  if (field !== "" || row.length) end();
  return out;
}

/** The rows of a table as functions that read a column. */
export function table(text, file, required, optional) {
  const [head, ...rest] = records(text.replace(/^\uFEFF/, ""), file);
  const names = head?.row ?? [];
  const all = [...required, ...optional];
  if (names.length === 1 && names[0].includes(";")) throw new Fault(`${file}: the columns are separated by semicolons; save the table with commas, and a point as decimal mark`);
  const strange = names.find((n, i) => !all.includes(n) || names.indexOf(n) !== i);
  if (strange !== undefined) throw new Fault(`${file}, line 1: ${all.includes(strange) ? "duplicate" : "unknown"} column "${strange}"; the columns are ${all.join(", ")}`);
  const missing = required.find((n) => !names.includes(n));
  if (missing) throw new Fault(`${file}, line 1: the column "${missing}" is missing; the columns are ${all.join(", ")}`);
  if (!rest.length) throw new Fault(`${file}: the table has no rows; give at least one`);
  return rest.map(({ line, row }) => {
    if (row.length !== names.length) throw new Fault(`${file}, line ${line}: ${row.length} fields, but the header has ${names.length}; quote a field that holds a comma`);
    const text = (column) => row[names.indexOf(column)] || undefined;
    const fault = (column, wrong, right) => new Fault(`${file}, line ${line}, ${column}: ${wrong}; ${right}`);
    return {
      fault,
      text,
      needed(column) {
        const value = text(column);
        if (value === undefined) throw fault(column, "it is blank", "give a value");
        return value;
      },
      number(column) {
        const value = text(column);
        if (value === undefined) return undefined;
        if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(value)) throw fault(column, `"${value}" is not a number`, "write it with a point, such as 21.5");
        return Number(value);
      },
      word(column, words) {
        const value = text(column);
        if (value !== undefined && !words.includes(value)) throw fault(column, `"${value}" is not known`, `it is one of ${words.join(", ")}`);
        return value;
      },
    };
  });
}

/** A table as text. */
export function written(columns, rows) {
  const quote = (v) => { const s = String(v ?? ""); return /[",\n\r]|^\s|\s$/.test(s) ? `"${s.replaceAll('"', '""')}"` : s; };
  return [columns, ...rows.map((r) => columns.map((c) => r[c]))].map((r) => `${r.map(quote).join(",")}\n`).join("");
}
