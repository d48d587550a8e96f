//! Completing a report by charge balance and conductivity.
//!
//! What is not stated is filled in along the pattern of the world's mean river water
//! (parameters `pattern_*`): with an EC, until the computed EC meets it and the charges cancel;
//! without one, only until the charges cancel. Every figure so filled is listed as assumed.

use super::assumed::Assumed;
use super::carbonate::Carbonate;
use super::completed::Water;
use super::report::WaterReport;
use super::stated::{Stated, nothing};
use crate::conduct::{specific_conductance_at_ph, specific_conductance_of};
use guardcell_error::Error;
use guardcell_reference::parameters::{Parameter, solution as parameter, unit};
use guardcell_reference::{Composition, Solute};
use guardcell_units::quantity::{ThermodynamicTemperature, in_us_per_cm, mmol_per_l, us_per_cm};
use guardcell_units::uom::si::molar_mass::gram_per_mole;
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;

impl Water {
    /// Completes a report (see [`WaterResponse`](super::WaterResponse) for what was assumed).
    ///
    /// # Errors
    /// [`Error`] with a JSON Pointer for a figure that cannot be, or where nothing at all
    /// is stated.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::{Water, WaterReport};
    /// let w = Water::from_report(&WaterReport::from_toml("ec_us_cm = 450\n")?)?;
    /// assert!(!w.assumed().is_empty());
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn from_report(report: &WaterReport) -> Result<Self, Error> {
        complete(report).map(|c| c.water)
    }
}

/// A completed report.
pub(super) struct Completion {
    pub(super) water: Water,
    pub(super) stated: Stated,
    pub(super) ec_from_ions: f64,
    pub(super) imbalance_percent: f64,
}

pub(super) fn complete(report: &WaterReport) -> Result<Completion, Error> {
    let stated = Stated::of(report)?;
    let blank = Stated { ph: None, temp_c: None, ..stated } == Stated::default();
    if blank {
        return Err(nothing());
    }
    let mut c = from_stated(&stated)?;
    if let Some(name) = &report.name {
        c.water.name.clone_from(name);
    }
    Ok(c)
}

/// A completed set in mmol/L, alkalinity in meq/L.
#[derive(Debug, Clone, Copy, Default)]
struct Filled {
    ca: f64,
    mg: f64,
    na: f64,
    k: f64,
    nh4: f64,
    no3: f64,
    p: f64,
    so4: f64,
    cl: f64,
    alkalinity: f64,
}

impl Filled {
    fn cations(&self) -> f64 {
        2.0 * (self.ca + self.mg) + self.na + self.k + self.nh4
    }

    fn anions(&self) -> f64 {
        self.no3 + self.p + 2.0 * self.so4 + self.cl + self.alkalinity
    }

    fn ionic_mol_l(&self) -> f64 {
        (4.0 * (self.ca + self.mg + self.so4)
            + self.na
            + self.k
            + self.nh4
            + self.no3
            + self.p
            + self.cl
            + self.alkalinity)
            / 2000.0
    }

    fn composition(&self, temp_c: f64, ph: f64) -> Composition {
        let mut c = Composition::PURE_WATER;
        let dic = Carbonate::at(temp_c, self.ionic_mol_l()).dic_mmol_l(self.alkalinity, ph);
        for (s, v) in [
            (Solute::Ca, self.ca),
            (Solute::Mg, self.mg),
            (Solute::Na, self.na),
            (Solute::K, self.k),
            (Solute::Nh4, self.nh4),
            (Solute::No3, self.no3),
            (Solute::P, self.p),
            (Solute::So4, self.so4),
            (Solute::Cl, self.cl),
            (Solute::Dic, dic),
        ] {
            c[s] = mmol_per_l(v);
        }
        c
    }
}

/// Completes the figures alone; contradictions are looked for elsewhere.
pub(super) fn from_stated(stated: &Stated) -> Result<Completion, Error> {
    let Some(ec) = stated.ec.filter(|e| e.temp_c != 25.0 && e.us_cm > 0.0) else {
        return at_25(stated);
    };
    // The completed ions say how the conductivity goes with temperature, and the conductivity at
    // 25 °C what the ions are: a few rounds settle both.
    let mut stated = Stated { ec25: Some(ec.us_cm * first_guess(ec.temp_c)), ..*stated };
    for _ in 0..8 {
        let done = at_25(&stated)?;
        let factor = done.water.ec25_over(ec.temp_c)?;
        let next = ec.us_cm * factor;
        let change = stated.ec25.map_or(1.0, |e| (next / e - 1.0).abs());
        stated.ec25 = Some(next);
        if change < 1e-5 {
            break;
        }
    }
    at_25(&stated)
}

/// Specific conductance over conductivity, near enough to start from: about 2 %/K.
fn first_guess(temp_c: f64) -> f64 {
    1.0 / (1.0 + 0.02 * (temp_c - 25.0))
}

/// Completes a report whose conductivity, if any, refers to 25 °C.
fn at_25(stated: &Stated) -> Result<Completion, Error> {
    let temp_c = stated.temp_c.unwrap_or(25.0);
    let ph = stated.ph.unwrap_or(parameter::WATER_PH_ASSUMED.ph());
    let known = known_hardness(stated);
    let filled = fill_to_ec(&known, stated, temp_c, ph)?;
    let ec_from_ions =
        in_us_per_cm(specific_conductance_at_ph(&filled.composition(temp_c, ph), ph)?);
    let ec25 = stated.ec25.unwrap_or(ec_from_ions);
    let (cations, anions) = (filled.cations(), filled.anions());
    let sum = cations + anions;
    let imbalance_percent = if sum > 0.0 { 100.0 * (cations - anions) / sum } else { 0.0 };
    let mut assumed = assumed(stated, &known, &filled, ph);
    let closed = close(&filled, &mut assumed);
    let composition = closed.composition(temp_c, ph);
    let mut closing = Composition::PURE_WATER;
    closing[Solute::Na] = mmol_per_l(closed.na - filled.na);
    closing[Solute::Cl] = mmol_per_l(closed.cl - filled.cl);
    // What a meter reads above what the model gives for the water as it is mixed further.
    let ec_of_closed = in_us_per_cm(specific_conductance_of(&composition)?);
    let water = Water {
        name: "water".into(),
        composition,
        ec25: us_per_cm(ec25),
        ph: stated.ph,
        temperature: ThermodynamicTemperature::new::<degree_celsius>(temp_c),
        alkalinity_meq_l: filled.alkalinity,
        ec_offset_us_cm: ec25 - ec_of_closed,
        assumed,
        closing,
    };
    Ok(Completion { water, stated: *stated, ec_from_ions, imbalance_percent })
}

/// Closes what is left of the charge with sodium or chloride, so that the water can be mixed with
/// feed without the pH having to take up an error of the analysis.
fn close(filled: &Filled, assumed: &mut Vec<Assumed>) -> Filled {
    let mut closed = *filled;
    let open = filled.cations() - filled.anions();
    let (solute, slot) =
        if open > 0.0 { (Solute::Cl, &mut closed.cl) } else { (Solute::Na, &mut closed.na) };
    *slot += open.abs();
    if open.abs() > 1e-6 * (filled.cations() + filled.anions()) {
        assumed.push(Assumed {
            what: format!("{}_closing", solute.name()),
            value: open.abs() * solute.molar_mass().get::<gram_per_mole>(),
            unit: "mg/L".to_owned(),
            how: format!(
                "used with the report so that the charges cancel ({} are short); not part of the ions shown",
                if open > 0.0 { "anions" } else { "cations" }
            ),
        });
    }
    closed
}

/// Splits hardness into Ca and Mg as far as it is stated.
fn known_hardness(stated: &Stated) -> Stated {
    let mut known = *stated;
    if let Some(h) = stated.hardness {
        let ca_share = parameter::HARDNESS_CA_SHARE.number();
        let (ca, mg) = match (stated.ca, stated.mg) {
            (Some(ca), Some(mg)) => (ca, mg),
            (Some(ca), None) => (ca, (h - ca).max(0.0)),
            (None, Some(mg)) => ((h - mg).max(0.0), mg),
            (None, None) => (h * ca_share, h * (1.0 - ca_share)),
        };
        known.ca = Some(ca);
        known.mg = Some(mg);
    }
    known
}

/// The completed set for a total charge of `total` meq/L on each side.
fn fill(known: &Stated, total: f64) -> Filled {
    let weight = |p: Parameter<unit::One>, stated: Option<f64>| {
        if stated.is_none() { p.number() } else { 0.0 }
    };
    let cations = [
        weight(parameter::PATTERN_CA, known.ca),
        weight(parameter::PATTERN_MG, known.mg),
        weight(parameter::PATTERN_NA, known.na),
        weight(parameter::PATTERN_K, known.k),
    ];
    let anions = [
        weight(parameter::PATTERN_ALKALINITY, known.alkalinity),
        weight(parameter::PATTERN_SO4, known.so4),
        weight(parameter::PATTERN_CL, known.cl),
        weight(parameter::PATTERN_NO3, known.no3),
    ];
    let z = |v: Option<f64>| v.unwrap_or(0.0);
    let mut f = Filled {
        ca: z(known.ca),
        mg: z(known.mg),
        na: z(known.na),
        k: z(known.k),
        nh4: z(known.nh4),
        no3: z(known.no3),
        p: z(known.p),
        so4: z(known.so4),
        cl: z(known.cl),
        alkalinity: z(known.alkalinity),
    };
    let (sum_c, sum_a) = (cations.iter().sum::<f64>(), anions.iter().sum::<f64>());
    let missing_c = (total - f.cations()).max(0.0);
    let missing_a = (total - f.anions()).max(0.0);
    if sum_c > 0.0 {
        let [ca, mg, na, k] = cations.map(|w| w / sum_c * missing_c);
        f.ca += ca / 2.0;
        f.mg += mg / 2.0;
        f.na += na;
        f.k += k;
    }
    if sum_a > 0.0 {
        let [alkalinity, so4, cl, no3] = anions.map(|w| w / sum_a * missing_a);
        f.alkalinity += alkalinity;
        f.so4 += so4 / 2.0;
        f.cl += cl;
        f.no3 += no3;
    }
    f
}

fn fill_to_ec(known: &Stated, stated: &Stated, temp_c: f64, ph: f64) -> Result<Filled, Error> {
    let bare = fill(known, 0.0);
    let least = bare.cations().max(bare.anions());
    let Some(ec25) = stated.ec25 else {
        return Ok(fill(known, least));
    };
    let conductance = |total: f64| -> Result<f64, Error> {
        let c = fill(known, total).composition(temp_c, ph);
        specific_conductance_at_ph(&c, ph).map(in_us_per_cm)
    };
    if conductance(least)? >= ec25 {
        return Ok(fill(known, least));
    }
    // The equivalent conductance of any water is above 40 S·cm²/mol: ec25/40 meq/L is enough.
    let (mut low, mut high) = (least, least + ec25 / 40.0);
    if conductance(high)? < ec25 {
        return Ok(fill(known, least)); // nothing left open on one side: the EC cannot be met
    }
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        if conductance(middle)? < ec25 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(fill(known, f64::midpoint(low, high)))
}

/// Lists what the report did not state.
fn assumed(stated: &Stated, known: &Stated, f: &Filled, ph: f64) -> Vec<Assumed> {
    let by = if stated.ec25.is_some() {
        "charge balance and EC, along the pattern of mean river water"
    } else {
        "charge balance, along the pattern of mean river water"
    };
    let mg = |s: Solute, mmol: f64| mmol * s.molar_mass().get::<gram_per_mole>();
    let mut list = Vec::new();
    let mut add = |what: &str, value: f64, unit: &str, how: &str| {
        list.push(Assumed {
            what: what.to_owned(),
            value,
            unit: unit.to_owned(),
            how: how.to_owned(),
        });
    };
    for (s, was, now, value) in
        [(Solute::Ca, stated.ca, known.ca, f.ca), (Solute::Mg, stated.mg, known.mg, f.mg)]
    {
        if was.is_none() {
            let how = if now.is_none() {
                by
            } else if stated.ca.or(stated.mg).is_some() {
                "hardness less the other"
            } else {
                "usual share of the hardness"
            };
            add(s.name(), mg(s, value), "mg/L", how);
        }
    }
    for (s, was, value) in [
        (Solute::Na, stated.na, f.na),
        (Solute::K, stated.k, f.k),
        (Solute::So4, stated.so4, f.so4),
        (Solute::Cl, stated.cl, f.cl),
        (Solute::No3, stated.no3, f.no3),
    ] {
        if was.is_none() {
            add(s.name(), mg(s, value), "mg/L", by);
        }
    }
    if stated.alkalinity.is_none() {
        let caco3 = guardcell_units::basis::Of::<guardcell_units::basis::CaCO3>::from_molar(
            mmol_per_l(f.alkalinity / 2.0),
        );
        add("alkalinity", caco3.mg_per_l(), "mg/L{CaCO3}", by);
    }
    for (s, was) in [(Solute::Nh4, stated.nh4), (Solute::P, stated.p)] {
        if was.is_none() {
            add(s.name(), 0.0, "mg/L", "not stated, taken as none");
        }
    }
    if stated.ph.is_none() {
        add("ph", ph, "[pH]", "usual for mains water");
    }
    if stated.temp_c.is_none() {
        add("temperature", 25.0, "Cel", "not stated");
    }
    list
}
