// The forms. Each field is bound to one value of what is kept; an empty field is no value.
import { bounds, el, post, round, tell, words } from "./ask.js";
import { save, state } from "./keep.js";

let counter = 0;

/** One labelled field. `kind` is number, text, area (lines), tick, or a list of choices. */
function field(label, kind, read, write, options = {}) {
  const id = `f${(counter += 1)}`;
  const put = (value) => { write(value); save(); options.changed?.(); };
  if (kind === "tick") {
    return el("label", { class: "tick", for: id }, el("input", { type: "checkbox", id, checked: Boolean(read()), onchange: (e) => put(e.target.checked) }), label);
  }
  let input;
  if (Array.isArray(kind)) {
    input = el("select", { id, onchange: (e) => put(e.target.value || null) }, kind.map(([value, text]) => el("option", { value, selected: value === (read() ?? "") }, text)));
  } else if (kind === "area") {
    input = el("textarea", { id, rows: "3", onchange: (e) => put(e.target.value) });
    input.value = read() ?? "";
  } else {
    input = el("input", { id, type: "text", inputmode: kind === "number" ? "decimal" : undefined, autocomplete: "off", placeholder: options.such, oninput: (e) => {
      const text = e.target.value.trim();
      if (kind !== "number") { put(text || null); return; }
      const value = Number(text.replace(",", "."));
      const bad = text !== "" && !Number.isFinite(value);
      e.target.setAttribute("aria-invalid", String(bad));
      if (!bad) put(text === "" ? null : value);
    } });
    input.value = read() ?? "";
  }
  if (options.required) input.setAttribute("aria-required", "true");
  return el("div", { class: options.wide ? "wide" : undefined }, el("label", { for: id }, label), input);
}

/** Binds a field to a key of an object. */
const of = (object, key, label, kind = "number", options = {}) => field(label, kind, () => object[key], (v) => {
  if (v === null || v === "") delete object[key]; else object[key] = v;
}, options);

function group(title, ...fields) {
  return el("fieldset", {}, el("legend", {}, title), el("div", { class: "fields" }, fields));
}

const emptyFeed = () => ({ name: "", form: "powder", guaranteed: {}, derived_from: [] });

/** The label and the recipe for it. */
export function feed(form, status, out) {
  state.feed ??= emptyFeed();
  const f = state.feed;
  f.guaranteed ??= {};
  const g = f.guaranteed;
  form.replaceChildren(
    el("p", { class: "help" }, "Copy the guaranteed analysis from the label, in percent. What the label does not say stays empty."),
    el("div", { class: "fields" },
      of(f, "name", "Name of the product", "text", { wide: true }),
      of(f, "form", "Form", [["powder", "powder"], ["liquid", "liquid"]]),
      of(f, "density_kg_l", "Density of a liquid, kg/L")),
    group("Nitrogen", of(g, "n_percent", "Total N, %"), of(g, "nitrate_n_percent", "Nitrate N, %"), of(g, "ammoniacal_n_percent", "Ammoniacal N, %"), of(g, "urea_n_percent", "Urea N, %")),
    group("Other nutrients", of(g, "p2o5_percent", "Phosphate P₂O₅, %"), of(g, "k2o_percent", "Potash K₂O, %"), of(g, "ca_percent", "Calcium Ca, %"), of(g, "mg_percent", "Magnesium Mg, %"), of(g, "s_percent", "Sulfur S, %"), of(g, "cl_percent", "Chloride Cl, %"), of(g, "fe_percent", "Iron Fe, %")),
    el("div", { class: "fields" },
      field("Derived from, one material a line", "area", () => (f.derived_from ?? []).join("\n"), (v) => { f.derived_from = v.split(/[\n,;]/).map((s) => s.trim()).filter(Boolean); }, { wide: true }),
      field("The label allows use on leaves", "tick", () => f.foliar, (v) => { if (v) f.foliar = true; else delete f.foliar; })),
    group("Mix", of(state.target, "mg_l", "Feed strength, mg/L"), of(state.target, "volume_l", "Volume, L"), of(state.site.grower, "scale_g", "Scale shows, g")),
    el("p", {}, el("button", { type: "submit", class: "main" }, "Work out what to weigh")));
  form.onsubmit = async (e) => {
    e.preventDefault();
    tell(status, "Working it out…");
    try {
      const resolution = state.site.grower.scale_g ? { mass_g: state.site.grower.scale_g } : {};
      const r = await post("v1/recipes", { products: [state.feed], volume_l: state.target.volume_l ?? 0, targets: [{ feed_strength: { mg_l: state.target.mg_l ?? 0 } }], resolution, ...(waterOrNone() ? { water: waterOrNone() } : {}) });
      out.replaceChildren(...recipe(r));
      tell(status, r.feasible ? "Done." : "The target cannot be met within the limits; see below.", !r.feasible);
    } catch (error) { out.replaceChildren(); tell(status, words(error), true); }
  };
}

function recipe(r) {
  const amount = (p) => (p.mass_g === undefined || p.mass_g === null ? `${round(p.volume_ml)} mL` : `${round(p.mass_g)} g`);
  return [
    el("div", { class: "bucket" },
      r.products.map((p) => el("p", {}, el("strong", {}, `${amount(p)} ${p.name}`), ` in ${round(r.volume_l)} L of water`)),
      el("p", {}, `Feed strength ${round(r.feed_strength_mg_l)} mg/L = ${round(r.n_mg_l)} ppm N`),
      el("p", {}, `A meter will read ${bounds(r.ec25_us_cm)} µS/cm at 25 °C, of which the water is ${round(r.water_ec25_us_cm)}`)),
    el("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": "What the solution holds" }, el("table", {}, el("caption", { class: "said" }, "What the solution holds, mg/L"),
      el("thead", {}, el("tr", {}, ["Element", "Together", "From the feed", "From the water"].map((h, i) => el("th", { scope: "col", class: i ? "n" : undefined }, h)))),
      el("tbody", {}, Object.entries(r.profile_mg_l).map(([name, v]) => el("tr", {}, el("th", { scope: "row" }, name[0].toUpperCase() + name.slice(1)), [v.total, v.from_products, v.from_water].map((x) => el("td", { class: "n" }, round(x)))))))),
    notices([...r.warnings, ...(r.assumptions ?? []), ...(r.blocking ?? [])]),
  ];
}

function notices(list) {
  return el("ul", { class: "why" }, list.map((n) => el("li", {}, n.says ?? n.ceiling, n.sources?.length ? el("span", { class: "src" }, ` (${n.sources.join(", ")})`) : null)));
}

/** The water report, if anything of it is known. */
export function waterOrNone() {
  const w = state.water;
  return w && Object.keys(w).some((k) => k !== "name") ? w : null;
}

export function feedOrNone() {
  const f = state.feed;
  return f?.name && Object.keys(f.guaranteed ?? {}).length ? f : null;
}

/** The water report and what follows from it. */
export function water(form, status, out) {
  state.water ??= {};
  const w = state.water;
  form.replaceChildren(
    el("p", { class: "help" }, "Any part of a report helps. Hardness and alkalinity take a figure with its unit, such as 14 °dH, 250 mg/L CaCO3 or 4.2 meq/L."),
    el("div", { class: "fields" },
      of(w, "name", "Name of the water", "text"), of(w, "ec_us_cm", "Conductivity, µS/cm"), of(w, "ph", "pH"),
      of(w, "hardness", "Hardness, with unit", "text", { such: "14 °dH" }), of(w, "alkalinity", "Alkalinity, with unit", "text", { such: "4.2 meq/L" }),
      of(w, "ca_mg_l", "Calcium, mg/L"), of(w, "mg_mg_l", "Magnesium, mg/L"), of(w, "na_mg_l", "Sodium, mg/L"), of(w, "cl_mg_l", "Chloride, mg/L"), of(w, "so4_mg_l", "Sulfate SO₄, mg/L"), of(w, "no3_mg_l", "Nitrate NO₃, mg/L")),
    el("p", {}, el("button", { type: "submit", class: "main" }, "Read the report")));
  form.onsubmit = async (e) => {
    e.preventDefault();
    tell(status, "Reading…");
    try {
      const a = await post("v1/waters", { water: state.water });
      out.replaceChildren(
        el("dl", { class: "facts" }, [
          ["Conductivity", `${round(a.ec25_us_cm)} µS/cm at 25 °C`], ["Hardness", `${round(a.hardness_mg_l_caco3)} mg/L CaCO₃`], ["Alkalinity", `${round(a.alkalinity_mg_l_caco3)} mg/L CaCO₃`],
          ["Leaves when dry", `${round(a.residue.total_mg_l)} mg/L, of it ${round(a.residue.scale_caco3_mg_l)} as scale`],
          ["Supplies", Object.entries(a.supplies_mg_l).filter(([, v]) => v > 0.05).map(([k, v]) => `${k[0].toUpperCase()}${k.slice(1)} ${round(v)}`).join(", ") + " mg/L"],
          ["Assumed", a.assumed.map((x) => `${x.what} ${round(x.value)} ${x.unit}`).join(", ") || "nothing"],
        ].flatMap(([t, d]) => [el("dt", {}, t), el("dd", {}, d)])),
        notices([...a.contradictions, ...a.warnings]));
      tell(status, "Done.");
    } catch (error) { out.replaceChildren(); tell(status, words(error), true); }
  };
}

/** The place and its air now. */
export function place(form) {
  const s = state.site;
  s.grower ??= {};
  const areas = s.areas;
  const series = state.readings.length > 1;
  const now = state.readings[0] ?? {};
  const air = (key) => field({ temp_c: "Temperature, °C", rh_percent: "Humidity, %", air_m_s: "Air speed, m/s" }[key], "number", () => now[key], (v) => {
    if (v === null) delete now[key]; else now[key] = v;
    state.readings = [now];
  });
  form.onsubmit = (e) => e.preventDefault();
  form.replaceChildren(
    group("Place", of(s, "name", "Name", "text"), of(s, "latitude_deg", "Latitude, °N"), of(s, "longitude_deg", "Longitude, °E"), of(s, "time_zone", "Time zone", "text", { such: "Europe/London" }), of(s.grower, "mister_ml", "Mister holds, mL"),
      el("div", {}, el("button", { type: "button", class: "small", onclick: () => navigator.geolocation?.getCurrentPosition((p) => {
        s.latitude_deg = Number(p.coords.latitude.toFixed(2));
        s.longitude_deg = Number(p.coords.longitude.toFixed(2));
        save();
        place(form);
      }) }, "Take from this device"))),
    ...areas.map((a, i) => group(`Area ${i + 1}`, of(a, "id", "Short name", "text"), of(a, "shelter", "Shelter", [["room", "room"], ["glass", "glasshouse"], ["outdoors", "outdoors"]]),
      of(a, "light", "Light", [["sun", "sun"], ["lamps", "lamps"], ["sun_and_lamps", "sun and lamps"]], { changed: () => { if (a.light === "sun") delete a.lamps; else a.lamps ??= [{ on: "07:00", off: "19:00" }]; place(form); } }),
      a.lamps?.[0] ? [of(a.lamps[0], "on", "Lamps on", "text"), of(a.lamps[0], "off", "Lamps off", "text")] : [])),
    series
      ? group("Air", el("p", { class: "wide" }, `A series of ${state.readings.length} readings is loaded, ${state.readings[0].time.slice(0, 10)} to ${state.readings.at(-1).time.slice(0, 10)}. `, el("button", { type: "button", class: "small", onclick: () => { state.readings = []; save(); place(form); } }, "Enter one reading instead")))
      : group("Air now", air("temp_c"), air("rh_percent"), air("air_m_s")));
}

const SETTING = ["mounted", "basket", "potted", "landscape"].map((w) => [w, w]);
const STANDING = ["established", "ordinary", "seedling", "weak", "rootless"].map((w) => [w, w]);
const SIZE = ["small", "medium", "large", "specimen"].map((w) => [w, w]);
const GROWTH = [["active", "growing"], ["resting", "resting"], ["unknown", "not looked at"]];

/** The plants, one group of fields each. */
export function plants(form) {
  const list = state.plants;
  const areas = state.site.areas.map((a) => [a.id, a.id]);
  form.onsubmit = (e) => e.preventDefault();
  const add = () => {
    const n = list.length + 1;
    list.push({ id: `P${String(n).padStart(2, "0")}`, name: "", area: state.site.areas[0]?.id ?? "here", setting: "mounted", standing: "ordinary", size: "medium", growth: "unknown" });
    save();
    plants(form);
    form.querySelector(".plant:last-of-type input")?.focus();
  };
  form.replaceChildren(
    el("fieldset", {}, el("legend", {}, `Plants (${list.length})`),
      list.map((p, i) => el("details", { class: "plant", open: !p.name }, el("summary", {}, `${p.id} ${p.name || "(no name yet)"}, ${p.setting}, ${p.standing}`), el("div", { class: "fields" },
        of(p, "name", "Name on its label", "text"), of(p, "id", "Id", "text"), of(p, "area", "Area", areas), of(p, "setting", "Grown", SETTING), of(p, "standing", "Standing", STANDING), of(p, "size", "Size", SIZE), of(p, "growth", "Growth", GROWTH),
        el("div", {}, el("button", { type: "button", class: "small", "aria-label": `Remove plant ${i + 1}`, onclick: () => { list.splice(i, 1); save(); plants(form); } }, "Remove"))))),
      el("p", {}, el("button", { type: "button", onclick: add }, "Add a plant"))));
}
