// TOML 1.0 as far as sites, labels and waters use it; dates and times stay text.
import { Fault } from "./ask.js";

const BARE = /[A-Za-z0-9_-]/;
const ESCAPES = { b: "\b", t: "\t", n: "\n", f: "\f", r: "\r", '"': '"', "\\": "\\" };

export function toml(text, file) {
  const s = `${text.replace(/^\uFEFF/, "").replaceAll("\r\n", "\n")}\n`;
  let i = 0;
  const wrong = (what) => new Fault(`${file}, line ${s.slice(0, i).split("\n").length}: ${what}`);
  const space = () => { while (s[i] === " " || s[i] === "\t") i += 1; };
  const comment = () => { if (s[i] === "#") while (s[i] !== "\n") i += 1; };
  const blank = () => { for (;;) { space(); comment(); if (s[i] !== "\n" || i >= s.length) return; i += 1; } };
  const want = (mark) => { if (!s.startsWith(mark, i)) throw wrong(`"${mark}" is missing here`); i += mark.length; };
  const fresh = () => Object.create(null);

  function escape() {
    const c = s[(i += 1)];
    if (c === "u" || c === "U") {
      const hex = s.slice(i + 1, i + 1 + (c === "u" ? 4 : 8));
      const code = /^[0-9a-f]+$/i.test(hex) ? parseInt(hex, 16) : NaN;
      if (!(code <= 0x10ffff)) throw wrong("this escape is no character");
      i += hex.length;
      return String.fromCodePoint(code);
    }
    if (!(c in ESCAPES)) throw wrong(`"\\${c}" is not an escape`);
    return ESCAPES[c];
  }
  function string() {
    const quote = s[i];
    const long = s.startsWith(quote.repeat(3), i);
    i += long ? 3 : 1;
    if (long && s[i] === "\n") i += 1;
    for (let out = ""; ; i += 1) {
      if (i >= s.length || (!long && s[i] === "\n")) throw wrong("this text is not closed by a quotation mark");
      if (s.startsWith(long ? quote.repeat(3) : quote, i)) { i += long ? 3 : 1; return out; }
      if (s[i] === "\\" && quote === '"') {
        const fold = long && /^\\[ \t]*\n\s*/.exec(s.slice(i, i + 200));
        if (fold) i += fold[0].length - 1;
        else out += escape();
      } else out += s[i];
    }
  }
  function key() {
    const path = [];
    for (;;) {
      space();
      if (s[i] === '"' || s[i] === "'") path.push(string());
      else {
        const from = i;
        while (BARE.test(s[i])) i += 1;
        if (from === i) throw wrong("a name is missing here");
        path.push(s.slice(from, i));
      }
      space();
      if (s[i] !== ".") return path;
      i += 1;
    }
  }
  function down(table, path) {
    return path.reduce((at, name) => {
      at[name] ??= fresh();
      const next = Array.isArray(at[name]) ? at[name].at(-1) : at[name];
      if (typeof next !== "object" || next === null) throw wrong(`"${name}" has a value already`);
      return next;
    }, table);
  }
  function put(table, path, value) {
    const at = down(table, path.slice(0, -1));
    if (path.at(-1) in at) throw wrong(`duplicate key "${path.join(".")}"`);
    at[path.at(-1)] = value;
  }
  function value() {
    if (s[i] === '"' || s[i] === "'") return string();
    if (s[i] === "[") {
      i += 1;
      for (const list = []; ; ) {
        blank();
        if (s[i] === "]") { i += 1; return list; }
        list.push(value());
        blank();
        if (s[i] !== "]") want(",");
      }
    }
    if (s[i] === "{") {
      i += 1;
      const made = fresh();
      space();
      if (s[i] === "}") { i += 1; return made; }
      for (;;) {
        pair(made);
        space();
        if (s[i] === "}") { i += 1; return made; }
        want(",");
      }
    }
    const word = /^[^\s,\]}#]*/.exec(s.slice(i, i + 80))[0];
    if (!word) throw wrong("a value is missing here");
    i += word.length;
    if (word === "true" || word === "false") return word === "true";
    if (/^\d{4}-\d\d-\d\d|^\d\d:\d\d/.test(word)) return word;
    const digits = word.replace(/(\d)_(?=\d)/g, "$1");
    if (!/^[+-]?(0|[1-9]\d*)(\.\d+)?(e[+-]?\d+)?$/i.test(digits)) throw wrong(`"${word}" is not a value; put text in quotation marks`);
    return Number(digits);
  }
  function pair(table) {
    const path = key();
    want("=");
    space();
    put(table, path, value());
  }

  const root = fresh();
  let at = root;
  for (;;) {
    blank();
    if (i >= s.length) return root;
    if (s.startsWith("[[", i)) {
      i += 2;
      const path = key();
      want("]]");
      const above = down(root, path.slice(0, -1));
      const list = (above[path.at(-1)] ??= []);
      if (!Array.isArray(list)) throw wrong(`"${path.join(".")}" is no list`);
      at = fresh();
      list.push(at);
    } else if (s[i] === "[") {
      i += 1;
      const path = key();
      want("]");
      at = down(root, path);
    } else pair(at);
    space();
    comment();
    if (s[i] !== "\n") throw wrong("only one value may stand on a line");
  }
}
