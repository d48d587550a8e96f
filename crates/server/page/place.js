// The place, its areas and its grower.
import { ask, show } from "./ask.js";
import { button, field, group, live, of } from "./fields.js";
import { save, saveAir, state } from "./keep.js";
import { count, el } from "./make.js";

const SHELTER = [["room", "room"], ["glass", "glasshouse"], ["outdoors", "outdoors"]];
const LIGHT = [["sun", "sun"], ["lamps", "lamps"], ["sun_and_lamps", "sun and lamps"]];
const DRINK = [["watered", "watered as usual"], ["drought", "dry for some days"], ["severe_drought", "shrivelled"]];

/** A list of times from … to …, with one more and one less. */
function runs(list, [from, to], [fromLabel, toLabel], more, redraw) {
  return [
    list.map((run, i) => el("div", { class: "run wide" }, of(run, from, fromLabel, "time"), of(run, to, toLabel, "time"),
      button("×", () => { list.splice(i, 1); save(); redraw(); }, { class: "square", "aria-label": `Remove times ${i + 1}: ${run[from]} to ${run[to]}` }))),
    el("div", { class: "wide" }, button(more, () => { list.push({ [from]: "07:00", [to]: "19:00" }); save(); redraw(); })),
  ];
}

/** `changed` is called when the areas are not what they were; `keep` before something is removed. */
export function place(form, status, changed, keep) {
  const s = state.site;
  s.grower ??= {};
  s.grower.working_hours ??= [];
  const redraw = (id) => { place(form, status, changed, keep); if (id) form.querySelector(`[data-area="${id}"]`)?.setAttribute("open", ""); };
  const lights = (a) => { if (a.light === "sun") delete a.lamps; else if (!a.lamps?.length) a.lamps = [{ on: "07:00", off: "19:00" }]; };

  function rename(a, was) {
    const id = a.id;
    if (!id || s.areas.some((o) => o !== a && o.id === id)) {
      a.id = was;
      show(status, id ? `"${id}" is another area already; give each a short name of its own.` : "An area needs a short name.", true);
    } else {
      for (const x of [...state.plants, ...state.readings]) if (x.area === was) x.area = id;
      show(status, "");
    }
    saveAir();
    changed();
    redraw(a.id);
  }
  function remove(a) {
    const here = state.plants.filter((p) => p.area === a.id).length;
    if (s.areas.length === 1) { show(status, "One area must stay: change it instead.", true); return; }
    if (here) { show(status, `${count(here, "plant")} in ${a.name}: move ${here === 1 ? "it" : "them"} to another area first.`, true); return; }
    keep(`${a.name} is removed.`);
    s.areas.splice(s.areas.indexOf(a), 1);
    state.readings = state.readings.filter((r) => r.area !== a.id);
    saveAir();
    changed();
    redraw();
  }
  function add() {
    let n = s.areas.length + 1;
    while (s.areas.some((a) => a.id === `area-${n}`)) n += 1;
    const a = { id: `area-${n}`, name: `Area ${n}`, shelter: "room", light: "sun" };
    s.areas.push(a);
    save();
    changed();
    redraw(a.id);
    const name = form.querySelector(`[data-area="${a.id}"] input`);
    name?.focus();
    name?.select();
  }
  const area = (a) => {
    const was = a.id;
    const title = el("summary", {}, el("span", {}, a.name ?? a.id, el("small", {}, `${SHELTER.find(([k]) => k === a.shelter)?.[1] ?? ""}, ${LIGHT.find(([k]) => k === (a.light ?? "sun"))?.[1] ?? ""}`)));
    return el("details", { class: "item", "data-area": a.id }, title, el("div", { class: "fields" },
      of(a, "name", "Name", "text", { changed: () => { a.name ??= a.id; save(); changed(); redraw(a.id); } }),
      of(a, "id", "Short name, as in your files", "text", { changed: () => rename(a, was) }),
      of(a, "shelter", "Shelter", SHELTER), of(a, "light", "Light", LIGHT, { changed: () => { lights(a); save(); redraw(a.id); } }),
      of(a, "water_status", "The plants are", DRINK), of(a, "air_m_s", "Usual air speed, m/s"),
      a.light && a.light !== "sun" ? runs((a.lamps ??= []), ["on", "off"], ["Lamps on", "Lamps off"], "Add lamp hours", () => redraw(a.id)) : null,
      el("div", { class: "wide" }, button("Remove this area", () => remove(a)))));
  };
  form.onsubmit = (e) => e.preventDefault();
  live(form, () => ask("day", { latitude_deg: s.latitude_deg ?? 0, longitude_deg: s.longitude_deg ?? 0, time_zone: s.time_zone ?? "UTC", date: new Date().toISOString().slice(0, 10) }));
  form.replaceChildren(
    group("Where", of(s, "name", "Name", "text", { wide: true }), of(s, "latitude_deg", "Latitude, ° north"), of(s, "longitude_deg", "Longitude, ° east"), of(s, "elevation_m", "Height above sea, m"), of(s, "time_zone", "Time zone", "text", { such: "Europe/London" }),
      el("div", { class: "wide" }, button("Take from this device", () => {
        if (!navigator.geolocation) { show(status, "This device does not tell where it is; enter the figures.", true); return; }
        navigator.geolocation.getCurrentPosition((p) => {
          s.latitude_deg = Number(p.coords.latitude.toFixed(2));
          s.longitude_deg = Number(p.coords.longitude.toFixed(2));
          save();
          redraw();
          show(status, "Taken, to about a kilometre.");
        }, () => show(status, "This device does not tell where it is; enter the figures.", true));
      }))),
    el("fieldset", {}, el("legend", {}, `Areas (${s.areas.length})`), el("p", { class: "help" }, "A part of the place with an air or a light of its own."), s.areas.map(area), el("p", {}, button("Add an area", add))),
    group("You", of(s.grower, "mister_ml", "Mister holds, mL"), field("Accepted chance of residue, %", "number", () => s.grower.tolerance && Number((100 * s.grower.tolerance).toPrecision(3)), (v) => { if (v === null) delete s.grower.tolerance; else s.grower.tolerance = v / 100; }, { such: "10" }),
      el("p", { class: "wide help" }, "Hours in which you can be with the plants; none means at any hour."),
      runs(s.grower.working_hours, ["from", "to"], ["From", "To"], "Add hours", () => redraw())));
}
