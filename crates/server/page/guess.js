// A map for the table of a logger that comes without one: which columns hold time, temperature and
// humidity. The table itself is read by the call `read_logger`, and what was guessed is said.
const quoted = (text) => JSON.stringify(text);
const TIME = /date|time|datum|zeit|fecha|hora|heure/i;
const TEMP = /temp|°\s*[cf]\b/i;
const HUMID = /humid|\brh\b|r\.h\.|feucht|humedad|humidit/i;
const NOT_AIR = /dew|tau|soil|leaf|probe error/i;

const cells = (line, by) => line.split(by).map((c) => c.trim().replace(/^"(.*)"$/, "$1"));

/** How the times of some rows are written; undefined where day and month cannot be told apart. */
function format(times) {
  const first = times[0] ?? "";
  if (/^\d{4}-\d\d-\d\d[T ]\d\d:\d\d/.test(first)) return /^\d{4}-\d\d-\d\dT/.test(first) || /(Z|[+-]\d\d:\d\d)$/.test(first) ? null : `%Y-%m-%d %H:%M${/:\d\d:\d\d/.test(first) ? ":%S" : ""}`;
  const m = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4}|\d\d) +\d{1,2}:\d\d(:\d\d)?$/.exec(first);
  if (!m) return undefined;
  const parts = times.map((t) => t.split(/[./ -]/).slice(0, 2).map(Number));
  const dayFirst = m[2] === "." || parts.some(([a]) => a > 12);
  const monthFirst = parts.some(([, b]) => b > 12);
  if (dayFirst === monthFirst) return undefined;
  const [a, b] = dayFirst ? ["%d", "%m"] : ["%m", "%d"];
  return `${a}${m[2]}${b}${m[2]}${m[4].length === 4 ? "%Y" : "%y"} %H:%M${m[5] ? ":%S" : ""}`;
}

/** The map and what it says in words; null where the table is not one of a logger. */
export function guessed(file, text, zone, area) {
  const lines = text.replace(/^\uFEFF/, "").split(/\r?\n/);
  const at = lines.slice(0, 30).findIndex((l) => TEMP.test(l) && HUMID.test(l));
  if (at < 0) return null;
  const by = [";", "\t", ","].map((d) => [d, lines[at].split(d).length]).sort((a, b) => b[1] - a[1])[0][0];
  const head = cells(lines[at], by);
  const find = (want) => head.find((c) => want.test(c) && !NOT_AIR.test(c));
  const [temp, humid] = [find(TEMP), find(HUMID)];
  const times = head.filter((c) => TIME.test(c) && c !== temp && c !== humid).slice(0, 2);
  const rows = lines.slice(at + 1).filter((l) => l.trim()).slice(0, 200).map((l) => cells(l, by));
  if (!temp || !humid || !times.length || rows.length < 2) return null;
  const moment = rows.map((r) => times.map((t) => r[head.indexOf(t)]).join(" "));
  const how = format(moment.filter((t) => /\d/.test(t)));
  if (how === undefined) return null;
  const decimal = by !== "," && rows.some((r) => /^-?\d+,\d+$/.test(r[head.indexOf(temp)])) ? "," : ".";
  const fahrenheit = /°?\s*f\b|fahrenheit/i.test(temp.replace(/temp\w*/i, ""));
  const map = [
    "source = \"csv\"", `file = ${quoted(file)}`, at ? `skip_lines = ${at}` : null, `delimiter = ${quoted(by)}`, `decimal = ${quoted(decimal)}`, "duplicates = \"first\"",
    "[time]", `columns = [${times.map(quoted).join(", ")}]`, how ? `format = ${quoted(how)}` : null, `zone = ${quoted(zone)}`, "ambiguous = \"by_order\"",
    "[[series]]", `area = ${quoted(area)}`, `temperature = { column = ${quoted(temp)}, unit = ${quoted(fahrenheit ? "[degF]" : "Cel")} }`, `humidity = { column = ${quoted(humid)}, unit = "%" }`,
  ].filter(Boolean).join("\n");
  return { map: `${map}\n`, says: `${file} has no map: “${temp}” was taken for the temperature in ${fahrenheit ? "°F" : "°C"}, “${humid}” for the humidity, the times for the clock of ${zone}, all of the area ${area}.` };
}
