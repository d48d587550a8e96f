// The label of the feed, the water, and what to weigh.
import { ask, show, words } from "./ask.js";
import { complain, field, group, live, notices, of } from "./fields.js";
import { state } from "./keep.js";
import { amount, el, meter, round, strength } from "./make.js";

const emptyFeed = () => ({ name: "", form: "powder", guaranteed: {}, derived_from: [] });

/** The water report, if anything of it is known. */
export function waterOrNone() {
  const w = state.water;
  return w && Object.keys(w).some((k) => k !== "name") ? w : null;
}

export function feedOrNone() {
  const f = state.feed;
  return f?.name && Object.keys(f.guaranteed ?? {}).length ? f : null;
}

/** The label and the recipe for it. */
export function feed(form, status, out) {
  state.feed ??= emptyFeed();
  const f = state.feed;
  f.guaranteed ??= {};
  const g = f.guaranteed;
  const percents = (...list) => list.map(([key, name]) => of(g, `${key}_percent`, `${name}, %`));
  form.replaceChildren(
    el("p", { class: "help" }, "Copy the guaranteed analysis from the label, in percent. What the label does not say stays empty."),
    el("div", { class: "fields" },
      of(f, "name", "Name of the product", "text", { wide: true }),
      of(f, "form", "Form", [["powder", "powder"], ["liquid", "liquid"]], { changed: () => feed(form, status, out) }),
      f.form === "liquid"
        ? [of(f, "percent_of", "Percent of", [["mass", "mass (w/w)"], ["volume", "volume (w/v)"]]), of(f, "density_kg_l", "Density, kg/L")]
        : of(f, "bulk_density_kg_l", "One litre of powder, kg")),
    group("Nitrogen", percents(["n", "Total N"], ["nitrate_n", "Nitrate N"], ["ammoniacal_n", "Ammoniacal N"], ["urea_n", "Urea N"])),
    group("Other nutrients", percents(["p2o5", "Phosphate P₂O₅"], ["k2o", "Potash K₂O"], ["ca", "Calcium Ca"], ["mg", "Magnesium Mg"], ["s", "Sulfur S"], ["cl", "Chloride Cl"], ["fe", "Iron Fe"])),
    el("details", { class: "more" }, el("summary", {}, "Trace elements, and labels that state the element"),
      el("div", { class: "fields" }, percents(["b", "Boron B"], ["cu", "Copper Cu"], ["mn", "Manganese Mn"], ["mo", "Molybdenum Mo"], ["zn", "Zinc Zn"], ["na", "Sodium Na"], ["p", "Phosphorus P"], ["k", "Potassium K"], ["cao", "Calcium oxide CaO"], ["mgo", "Magnesium oxide MgO"], ["so3", "Sulfur trioxide SO₃"]))),
    el("div", { class: "fields" },
      field("Derived from, one material a line", "area", () => (f.derived_from ?? []).join("\n"), (v) => { f.derived_from = v.split(/[\n,;]/).map((s) => s.trim()).filter(Boolean); }, { wide: true }),
      field("The label allows use on leaves", "tick", () => f.foliar, (v) => { if (v) f.foliar = true; else delete f.foliar; })),
    group("Mix", of(state.target, "mg_l", "Feed strength, mg/L"), of(state.target, "volume_l", "Volume, L"), of(state.site.grower, "scale_g", "Scale shows steps of, g")),
    el("p", {}, el("button", { type: "submit", class: "main" }, "Work out what to weigh")));
  const weigh = () => {
    const resolution = state.site.grower.scale_g ? { mass_g: state.site.grower.scale_g } : {};
    const water = waterOrNone();
    return ask("recipe", { products: [state.feed], volume_l: state.target.volume_l ?? 0, targets: [{ feed_strength: { mg_l: state.target.mg_l ?? 0 } }], resolution, ...(water ? { water } : {}) });
  };
  live(form, () => feedOrNone() && weigh());
  form.onsubmit = async (e) => {
    e.preventDefault();
    show(status, "Working it out…");
    try {
      const r = await weigh();
      out.replaceChildren(...recipe(r));
      show(status, r.feasible ? `Worked out in ${waterOrNone() ? "the water you entered" : "pure water: no water is entered"}.` : "The target cannot be met within the limits; see below.", !r.feasible);
      out.scrollIntoView({ block: "nearest" });
    } catch (error) { out.replaceChildren(); complain(form, error); show(status, words(error), true); }
  };
}

function recipe(r) {
  return [
    el("div", { class: "bucket" },
      r.products.map((p) => el("p", { class: "large" }, el("strong", {}, `${amount(p)} ${p.name}`), ` in ${round(r.volume_l)} L of water`)),
      el("p", {}, strength(r)),
      el("p", {}, `A meter will read ${meter(r.ec25_us_cm)} at 25 °C, of which the water is ${round(r.water_ec25_us_cm / 1000, 2)} mS/cm`)),
    el("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": "What the solution holds" }, el("table", {}, el("caption", {}, "What the solution holds, mg/L"),
      el("thead", {}, el("tr", {}, ["Element", "In all", "Feed", "Water"].map((h, i) => el("th", { scope: "col", class: i ? "n" : undefined }, h)))),
      el("tbody", {}, Object.entries(r.profile_mg_l).filter(([, v]) => v.total > 0).map(([name, v]) => el("tr", {}, el("th", { scope: "row" }, name[0].toUpperCase() + name.slice(1)), [v.total, v.from_products, v.from_water].map((x) => el("td", { class: "n" }, round(x)))))))),
    notices([...r.warnings, ...(r.assumptions ?? []), ...(r.blocking ?? [])]),
  ].filter(Boolean);
}

/** The water report and what follows from it. */
export function water(form, status, out) {
  state.water ??= {};
  const w = state.water;
  if (w.ec === undefined && w.ec_us_cm !== undefined) { w.ec = `${w.ec_us_cm} µS/cm`; delete w.ec_us_cm; }
  const mg = (...list) => list.map(([key, name]) => of(w, `${key}_mg_l`, `${name}, mg/L`));
  form.replaceChildren(
    el("p", { class: "help" }, "Any part of a report helps. Conductivity, hardness and alkalinity take a figure with its unit."),
    el("div", { class: "fields" },
      of(w, "name", "Name of the water", "text", { wide: true }), of(w, "ec", "Conductivity, with unit", "text", { such: "0.42 mS/cm" }), of(w, "ph", "pH"),
      of(w, "hardness", "Hardness, with unit", "text", { such: "14 °dH" }), of(w, "alkalinity", "Alkalinity, with unit", "text", { such: "4.2 meq/L" })),
    group("Dissolved", mg(["ca", "Calcium Ca"], ["mg", "Magnesium Mg"], ["na", "Sodium Na"], ["k", "Potassium K"], ["cl", "Chloride Cl"], ["so4", "Sulfate SO₄"], ["no3", "Nitrate NO₃"])),
    el("p", {}, el("button", { type: "submit", class: "main" }, "Read the report")));
  live(form, () => waterOrNone() && ask("water", { water: state.water }));
  form.onsubmit = async (e) => {
    e.preventDefault();
    show(status, "Reading…");
    try {
      const a = await ask("water", { water: state.water });
      out.replaceChildren(...[
        el("dl", { class: "facts" }, [
          ["Conductivity", `${round(a.ec25_us_cm / 1000)} mS/cm at 25 °C`], ["Hardness", `${round(a.hardness_mg_l_caco3)} mg/L CaCO₃`], ["Alkalinity", `${round(a.alkalinity_mg_l_caco3)} mg/L CaCO₃`],
          ["Leaves when dry", `${round(a.residue.total_mg_l)} mg/L, of it ${round(a.residue.scale_caco3_mg_l)} mg/L as scale`],
          ["Supplies", Object.entries(a.supplies_mg_l).filter(([, v]) => v > 0.05).map(([k, v]) => `${k[0].toUpperCase()}${k.slice(1)} ${round(v)}`).join(", ") + " mg/L"],
          ["Assumed", a.assumed.map((x) => `${x.what} ${round(x.value)} ${x.unit}`).join(", ") || "nothing"],
        ].map(([t, d]) => [el("dt", {}, t), el("dd", {}, d)])),
        notices([...a.contradictions, ...a.warnings])].filter(Boolean));
      show(status, "Done.");
      out.scrollIntoView({ block: "nearest" });
    } catch (error) { out.replaceChildren(); complain(form, error); show(status, words(error), true); }
  };
}
