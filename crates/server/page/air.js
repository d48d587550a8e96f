// The air: readings from a file, or one entered by hand.
import { ask, show, words } from "./ask.js";
import { Fault } from "./fault.js";
import { button, live } from "./fields.js";
import { saveAir, state } from "./keep.js";
import { clock, count, day, el, inZone, round, withOffset } from "./make.js";

const HOUR = 36e5;
/** Hours of readings sent from before the start, and from after the end of the time looked at. */
const [BEFORE, AFTER] = [24, 48];

/** The readings that bear on the hours after a moment. */
export function around(start, hours) {
  if (!state.series) return state.readings;
  const [from, to] = [start - BEFORE * HOUR, start + (hours + AFTER) * HOUR];
  return state.readings.filter((r) => { const t = Date.parse(r.time); return t >= from && t <= to; });
}

const areaName = (id) => (id ? state.site.areas.find((a) => a.id === id)?.name ?? id : "everywhere");
const local = (time) => inZone(Date.parse(time), state.site.time_zone);

/** What air is known, in one line. */
export function summary() {
  const list = state.readings;
  if (!list.length) return "none yet";
  try {
    if (state.series) return `${count(list.length, "reading")}, ${day(local(list[0].time))} to ${day(local(list.at(-1).time))} ${list.at(-1).time.slice(0, 4)}`;
    return list.map((r) => `${areaName(r.area)} ${round(r.temp_c)} °C, ${round(r.rh_percent)} % humidity at ${clock(local(r.time))} on ${day(local(r.time))}`).join("; ");
  } catch { return count(list.length, "reading"); }
}

/** A reading by hand takes the place of the last one of its area; in a series, of that moment. */
function add(reading) {
  const same = (r) => (r.area ?? "") === (reading.area ?? "") && (!state.series || Date.parse(r.time) === Date.parse(reading.time));
  const kept = state.readings.filter((r) => !same(r) && (state.series || !reading.area === !r.area));
  state.readings = [...kept, reading].sort((a, b) => Date.parse(a.time) - Date.parse(b.time));
}

/** The form for one reading. `drawn` is called after a change. */
export function air(form, status, drawn) {
  const several = state.site.areas.length > 1;
  const input = (id, label, key) => {
    const node = el("input", { id, type: "text", inputmode: "decimal", autocomplete: "off" });
    node.dataset.key = key;
    return el("div", {}, el("label", { for: id }, label), node);
  };
  const typed = (id) => { const text = form.querySelector(`#${id}`).value.trim().replace(",", ".").replace("−", "-"); return text === "" ? undefined : Number(text); };
  live(form, async () => {
    const [temp, rh] = [typed("air-temp"), typed("air-rh")];
    if (temp !== undefined || rh !== undefined) await ask("air", { temp_c: temp ?? 20, rh_percent: rh ?? 50 });
  });
  form.replaceChildren(
    el("div", { class: "fields" },
      several ? el("div", { class: "wide" }, el("label", { for: "air-area" }, "Where"), el("select", { id: "air-area" }, [el("option", { value: "" }, "everywhere"), ...state.site.areas.map((a) => el("option", { value: a.id }, a.name ?? a.id))])) : null,
      input("air-temp", "Temperature, °C", "temp_c"), input("air-rh", "Humidity, %", "rh_percent"), input("air-speed", "Air speed, m/s (if known)", "air_m_s"), input("air-sun", "Sun or lamps, W/m² (if known)", "radiation_w_m2"),
      el("div", { class: "wide" }, el("label", { for: "air-time" }, "When (empty: the starting time, or now)"), el("input", { id: "air-time", type: "datetime-local" }))),
    el("div", { class: "bar" }, el("button", { type: "submit", class: "main" }, "Use this reading"),
      state.readings.length ? button("Remove all readings", () => { state.readings = []; state.series = false; saveAir(); air(form, status, drawn); drawn(); show(status, "The readings are removed."); }) : null));
  form.onsubmit = (e) => {
    e.preventDefault();
    try {
      const value = (id, name, needed) => {
        const field = form.querySelector(`#${id}`);
        const text = field.value.trim().replace(",", ".").replace("−", "-");
        const bad = text === "" ? needed : !Number.isFinite(Number(text));
        field.setAttribute("aria-invalid", String(bad));
        if (bad) { field.focus(); throw new Fault(`${name}: ${text === "" ? "it is empty" : `"${text}" is not a number`}; give a figure such as 21.5`); }
        return text === "" ? undefined : Number(text);
      };
      const at = form.querySelector("#air-time").value || state.at;
      const reading = {
        time: at ? withOffset(at.length === 10 ? `${at}T12:00` : at, state.site.time_zone) : inZone(Math.floor(Date.now() / 1000) * 1000, state.site.time_zone),
        area: form.querySelector("#air-area")?.value || undefined,
        temp_c: value("air-temp", "Temperature", true), rh_percent: value("air-rh", "Humidity", true),
        air_m_s: value("air-speed", "Air speed", false), radiation_w_m2: value("air-sun", "Sun or lamps", false),
      };
      add(JSON.parse(JSON.stringify(reading)));
      const kept = saveAir();
      air(form, status, drawn);
      drawn();
      show(status, kept ? "The reading is kept. Ask when ready." : "This device has no room to keep the readings; they are used until the page is closed.", !kept);
    } catch (error) { show(status, error instanceof RangeError ? "The time zone of the place is not known; write it like Europe/London." : words(error), true); }
  };
}
