// Making what is shown: elements, numbers and times. Strings become text, never markup.
const real = (c) => c !== null && c !== undefined && c !== false;
/** Keeps a number and its unit on one line. */
const bound = (c) => (typeof c === "string" ? c.replace(/(\d) (?=(?:mg|mL|L|g|ppm|mS|µS|h|min|kg|m\/s|W|mm)\b|[%°‰])/g, "$1\u00a0") : c);

/** An element with attributes and children, which may be nested lists. */
export function el(name, attributes = {}, ...children) {
  const node = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (!real(value)) continue;
    if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
    else if (key in node && typeof value !== "string") node[key] = value;
    else node.setAttribute(key, value === true ? "" : value);
  }
  node.append(...children.flat(Infinity).filter(real).map(bound));
  return node;
}

/** A number to so many significant digits. */
export function round(value, digits = 3) {
  return real(value) ? String(Number(Number(value).toPrecision(digits))).replace("-", "−") : "–";
}

/** A volume in whole millilitres, as a measuring jug shows it; in litres from one on. */
export const ml = (v) => {
  if (v >= 1000) return `${round(v / 1000, 3)} L`;
  return `${v < 10 ? round(v, 2) : Math.round(v)} mL`;
};

/** What to weigh or measure of a product. */
export const amount = (p) => (real(p.mass_g) ? `${round(p.mass_g, 4)} g` : `${round(p.volume_ml)} mL`);

/** What goes into a bucket beside its product. */
export const beside = (b) => (b.with ?? []).map((w) => (w.stock ? `${round(w.stock.take_ml, 4)} mL of a stock of ${amount(w.stock)} ${w.product} made up to ${ml(w.stock.made_up_to_ml)}` : `${amount(w)} ${w.product}`)).join("; ");

/** A probability in percent. */
export const percent = (p) => (p < 0.01 ? "under 1 %" : p > 0.99 ? "over 99 %" : `${Math.round(100 * p)} %`);

/** A conductivity of so many µS/cm as a meter shows it, with its bounds where they matter. */
export function meter(b) {
  const ms = (v) => (v / 1000).toFixed(2);
  const wide = b.high - b.low > 0.02 * b.high;
  if (real(b.value)) return `${ms(b.value)} mS/cm${wide ? ` (${ms(b.low)}–${ms(b.high)})` : ""}`;
  return wide ? `${ms(b.low)}–${ms(b.high)} mS/cm` : `${ms(b.high)} mS/cm`;
}

/** Feed strength beside ppm N. */
export const strength = (s) => `${Math.round(s.feed_strength_mg_l)} mg/L feed = ${s.n_mg_l < 10 ? round(s.n_mg_l, 2) : Math.round(s.n_mg_l)} ppm N`;

/** "1 plant", "2 plants". */
export const count = (n, one, many = `${one}s`) => `${n} ${n === 1 ? one : many}`;

// Times come with the offset of the place, so that their own digits are its clock.
export const clock = (time) => time.slice(11, 16);
export const day = (time) => new Date(`${time.slice(0, 10)}T12:00Z`).toLocaleDateString("en-GB", { weekday: "short", day: "numeric", month: "short", timeZone: "UTC" }).replace(",", "");

/** A time from … to …, naming a day once. */
export function span(w) {
  const end = w.start.slice(0, 10) === w.end.slice(0, 10) ? clock(w.end) : `${day(w.end)} ${clock(w.end)}`;
  return `${day(w.start)}, ${clock(w.start)}–${end}`;
}

/** Minutes of an offset such as -01:00. */
export function minutes(offset) {
  const m = /^([+-])(\d\d):(\d\d)/.exec(offset);
  return m ? (m[1] === "-" ? -1 : 1) * (60 * Number(m[2]) + Number(m[3])) : 0;
}

/** A moment, in milliseconds, on the clock of a zone, with its offset. */
export function inZone(moment, zone) {
  const name = new Intl.DateTimeFormat("en-GB", { timeZone: zone, timeZoneName: "longOffset" }).formatToParts(moment).find((p) => p.type === "timeZoneName").value;
  const offset = /[+-]\d\d:\d\d/.exec(name)?.[0] ?? "+00:00";
  return new Date(moment + minutes(offset) * 6e4).toISOString().slice(0, 19) + offset;
}

/** A local time such as 2026-06-21T12:00 with the offset it has in a zone. */
export function withOffset(local, zone) {
  const utc = Date.parse(`${local}:00Z`);
  const first = inZone(utc, zone).slice(19);
  return `${local}:00${inZone(utc - minutes(first) * 6e4, zone).slice(19)}`;
}

/** Words of an answer: times written for machines become those of a clock in the zone. */
export function plainly(says, zone) {
  return says.replaceAll("`", "").replace(/\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d)?(Z|[+-]\d\d:\d\d)/g, (time) => {
    const local = inZone(Date.parse(time), zone);
    return `${day(local)}, ${clock(local)}`;
  });
}

/** The moment an answer was asked, on the clock of the place. */
export function asked(moment, zone) {
  try { const t = inZone(moment, zone); return `${day(t)}, ${clock(t)}`; } catch { return new Date(moment).toISOString().slice(0, 16).replace("T", " "); }
}
