// What the engine and the native program are asked alike: every example of a call, random requests
// from the demo collection in air that changes, and faulty ones.

/** Numbers from 0 to 1 that are the same each time (mulberry32, public domain). */
export function random(seed) {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const round = (v, digits) => Number(v.toFixed(digits));
const bounded = (v, low, high) => Math.min(high, Math.max(low, v));

/** The collection of the page's example as a request of so many plants for 36 hours. */
export function collection(example, plants = example.plants.length) {
  const { target, ...situation } = example;
  const many = Array.from({ length: plants }, (_, i) => ({ ...example.plants[i % example.plants.length], id: `P${i + 1}` }));
  return { ...situation, plants: many, hours: 36 };
}

/** Other air: another level, fronts that pass, noise, hours that are missing. */
function weather(readings, next) {
  const between = (low, high) => low + (high - low) * next();
  const [warmer, moister] = [between(-8, 8), between(-35, 15)];
  const front = { at: between(0, 36), drop: between(0, 7), dry: between(-25, 25) };
  const gap = { from: between(0, 40), hours: next() < 0.3 ? between(2, 9) : 0 };
  const first = Date.parse(readings[0].time);
  const out = [];
  for (const r of readings) {
    const hour = (Date.parse(r.time) - first) / 36e5;
    if (hour > gap.from && hour < gap.from + gap.hours) continue;
    const passed = 1 / (1 + Math.exp(-(hour - front.at)));
    const changed = {
      ...r,
      temp_c: round(bounded(r.temp_c + warmer - front.drop * passed + between(-0.7, 0.7), -5, 42), 1),
      rh_percent: round(bounded(r.rh_percent + moister + front.dry * passed + between(-3, 3), 12, 100), 1),
    };
    if (r.air_m_s !== undefined) changed.air_m_s = round(bounded(r.air_m_s * between(0.3, 3), 0, 8), 2);
    if (r.radiation_w_m2 !== undefined) changed.radiation_w_m2 = round(r.radiation_w_m2 * between(0.2, 1.2), 0);
    out.push(changed);
  }
  return out.length ? out : readings;
}

/** A part of the collection under other air, from another hour, in another water. */
function situation(example, next) {
  const r = collection(example);
  const pick = (list) => list[Math.floor(next() * list.length)];
  const size = pick([3, 5, 8, 16, 48]);
  r.plants = r.plants.map((p) => [next(), p]).sort((a, b) => a[0] - b[0]).slice(0, size).map(([, p]) => p);
  r.hours = pick([6, 12, 24, 36, 48]);
  r.at = `2026-06-${pick(["21", "21", "22"])}T${String(Math.floor(next() * 24)).padStart(2, "0")}:${pick(["00", "30"])}`;
  if (r.at < "2026-06-21T12") r.at = "2026-06-21T12:00";
  r.readings = weather(r.readings, next);
  r.water = { ...r.water };
  for (const ion of ["ca_mg_l", "na_mg_l", "cl_mg_l", "so4_mg_l"]) r.water[ion] = round(r.water[ion] * (0.3 + 2 * next()), 1);
  if (next() < 0.1) delete r.water;
  return r;
}

/** Requests as `{ name, path, json, draw }`: the examples, then so many random ones. */
export function good(calls, example, count, seed) {
  const of = (name) => calls.find((c) => c.name === name);
  const list = calls.flatMap((c) => [{ name: c.name, path: c.path, json: c.example, draw: false }, ...(c.can_draw ? [{ name: c.name, path: c.path, json: c.example, draw: true }] : [])]);
  const next = random(seed);
  for (let i = 0; i < count; i += 1) {
    const situated = situation(example, next);
    const kind = i % 10;
    let [name, request, draw] = ["advise", situated, false];
    if (kind >= 5 && kind < 8) name = "round";
    else if (kind >= 8) {
      name = "day_ribbon";
      request = { situation: situated, area: situated.plants[0].area };
      draw = kind === 9;
    }
    list.push({ name, path: of(name).path, json: JSON.stringify(request), draw });
  }
  return list;
}

const WRONG = [null, true, -1e9, 1e300, "no such word", [], {}, [[1]]];

/** Faulty requests: each field of each example missing, of another type, or beyond its range. */
export function faulty(calls, seed) {
  const next = random(seed);
  const list = [];
  const add = (call, json) => list.push({ name: call.name, path: call.path, json, draw: false });
  for (const call of calls) {
    const whole = JSON.parse(call.example);
    for (const json of ["[]", "7", "\"text\"", "{", `${call.example} x`, "[".repeat(40), call.example.replace("{", "{\"surplus\": 1,"), call.example.replace(/:\s*-?\d[\d.]*/, ": 1e999")]) add(call, json);
    for (const key of Object.keys(whole)) {
      const { [key]: gone, ...rest } = whole;
      add(call, JSON.stringify(rest));
      add(call, JSON.stringify({ ...whole, [key]: WRONG[Math.floor(next() * WRONG.length)] }));
      if (gone && typeof gone === "object" && !Array.isArray(gone)) {
        for (const inner of Object.keys(gone).slice(0, 8)) add(call, JSON.stringify({ ...whole, [key]: { ...gone, [inner]: WRONG[Math.floor(next() * WRONG.length)] } }));
      }
    }
  }
  const file = (name, of, text) => add(calls.find((c) => c.name === name), JSON.stringify({ file: of, text }));
  const head = "id,name,area,setting,standing\n";
  for (const text of ["", head, `${head}A1,Vanda,here,mountd,ordinary\n`, `${head}A1,Vanda,here,mounted,ordinary\nA1,Vanda,here,mounted,ordinary\n`, `${head}A1,"Vanda,here\n`, head.replaceAll(",", ";"), `${head}A1,Vanda\n`]) file("read_collection", "plants.csv", text);
  for (const text of ["a = ", "name = 3", "name = \"x\"\nareas = [\n", "name = \"x\"\nlatitude_deg = 1\nlongitude_deg = 2\ntime_zone = \"UTC\"\ncolour = 1\n"]) file("read_site", "site.toml", text);
  for (const text of ["time,temp_c\n1,2\n", "time,temp_c,rh_percent\n2026-06-21T06:00:00Z,\"21,5\",80\n", "time,temp_c,rh_percent\n"]) file("read_readings", "air.csv", text);
  for (const [of, text] of [["x.doc", "a"], ["x.toml", "a = 01"], ["x.json", "{"], ["x.txt", "nothing of a label"]]) file("read_labels", of, text);
  return list;
}
