//! What a laboratory sheet derives from a water: saturation with calcite, sodium adsorption, and
//! the degrees of restriction for irrigation.

use super::completed::Water;
use crate::speciation::closed::{Closed, root};
use guardcell_error::Error;
use guardcell_reference::aqueous::{Component, Phase};
use guardcell_reference::parameters::solution as parameter;
use guardcell_reference::{Composition, Solute};
use guardcell_units::basis::{Basis as _, CaCO3};
use guardcell_units::quantity::{in_celsius, in_mmol_per_l, in_us_per_cm};
use guardcell_units::uom::si::molar_mass::gram_per_mole;
use serde::{Deserialize, Serialize};

/// Saturation with calcium carbonate, and what irrigation guidelines make of the water.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct WaterIndices {
    /// The temperature that the indices hold for, °C.
    pub temp_c: f64,
    /// The pH that the indices hold for, stated or assumed.
    pub ph: f64,
    /// Saturation index of calcite: log10 of the ion activity product over the constant of
    /// Plummer & Busenberg (1982); omitted where the water holds no calcium or carbonate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calcite_saturation_index: Option<f64>,
    /// Langelier index (Langelier 1936; Standard Methods 2330 B): pH less the pH at which a water
    /// of the same calcium, alkalinity and temperature is in equilibrium with calcite.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub langelier_index: Option<f64>,
    /// Calcium carbonate precipitation potential (Standard Methods 2330 C), mg/L as CaCO3: what
    /// comes down until the closed water is in equilibrium with calcite; negative where it
    /// dissolves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ccpp_mg_l_caco3: Option<f64>,
    /// Sodium adsorption ratio, (meq/L)^½: Na/√((Ca + Mg)/2); omitted without calcium and
    /// magnesium.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sodium_adsorption_ratio: Option<f64>,
    /// Degrees of restriction on use (Ayers & Westcot 1985, FAO Irrigation and Drainage Paper 29,
    /// table 1), which were drawn up for field soils.
    pub irrigation: Vec<IrrigationClass>,
}

/// One guideline for irrigation water.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct IrrigationClass {
    /// What the guideline is about.
    pub hazard: IrrigationHazard,
    /// The figure that is compared, in `unit`.
    pub value: f64,
    /// The unit as a UCUM code.
    pub unit: String,
    /// The degree of restriction on use.
    pub restriction: Restriction,
    /// Keys of the works it rests on.
    pub sources: Vec<String>,
}

/// What can be wrong with irrigation water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum IrrigationHazard {
    /// Salinity, by the specific conductance.
    Salinity,
    /// Infiltration into soil, by the specific conductance at the sodium adsorption ratio.
    Infiltration,
    /// Sodium taken up by roots, by the sodium adsorption ratio.
    SodiumByRoots,
    /// Sodium taken up by wetted leaves.
    SodiumByLeaves,
    /// Chloride taken up by roots.
    ChlorideByRoots,
    /// Chloride taken up by wetted leaves.
    ChlorideByLeaves,
    /// Nitrate nitrogen.
    Nitrate,
    /// Hydrogencarbonate, which leaves deposits on wetted leaves.
    HydrogencarbonateOnLeaves,
    /// pH outside the normal range.
    Ph,
}

/// Degree of restriction on use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Restriction {
    /// No restriction.
    None,
    /// Slight to moderate restriction.
    SlightToModerate,
    /// Severe restriction.
    Severe,
}

/// The indices of a completed water at its own temperature.
pub(super) fn of(water: &Water) -> Result<WaterIndices, Error> {
    let ph = water.ph().unwrap_or(parameter::WATER_PH_ASSUMED.ph());
    let calcite = calcite(water, ph)?;
    let sar = sodium_adsorption_ratio(&water.composition());
    Ok(WaterIndices {
        temp_c: in_celsius(water.temperature()),
        ph,
        calcite_saturation_index: calcite.map(|c| c.index),
        langelier_index: calcite.map(|c| ph - c.ph_at_saturation),
        ccpp_mg_l_caco3: calcite.map(|c| c.precipitation_mg_l),
        sodium_adsorption_ratio: sar,
        irrigation: irrigation(water, ph, sar),
    })
}

#[derive(Debug, Clone, Copy)]
struct Calcite {
    index: f64,
    ph_at_saturation: f64,
    precipitation_mg_l: f64,
}

/// None where calcium or carbonate is absent.
fn calcite(water: &Water, ph: f64) -> Result<Option<Calcite>, Error> {
    let composition = water.composition();
    if in_mmol_per_l(composition[Solute::Ca]) <= 0.0 || water.alkalinity_meq_l() <= 0.0 {
        return Ok(None);
    }
    let at = |ph: f64| {
        Closed::from_alkalinity(&composition, water.temperature(), ph, water.alkalinity_meq_l())
    };
    let closed = at(ph)?;
    let Some(index) = closed.solved()?.saturation(Phase::Calcite) else {
        return Ok(None);
    };
    // The index rises with the pH at constant alkalinity, by about one per unit.
    let mut miss = |ph: f64| -> Result<f64, Error> {
        Ok(at(ph)?.solved()?.saturation(Phase::Calcite).unwrap_or(f64::MIN_POSITIVE))
    };
    let (mut low, mut high) = (ph - index - 0.5, ph - index + 0.5);
    while miss(low)? > 0.0 && low > 3.0 {
        low -= 0.5;
    }
    while miss(high)? < 0.0 && high < 12.0 {
        high += 0.5;
    }
    let ph_at_saturation = root(low, high, &mut miss)?;
    let mol_kg = precipitation(&closed)?;
    Ok(Some(Calcite {
        index,
        ph_at_saturation,
        precipitation_mg_l: mol_kg * closed.water_kg_l() * 1e3 * CaCO3::FORMULA.g_per_mol(),
    }))
}

/// mol of calcite per kg of water that come down until the closed water is saturated.
fn precipitation(water: &Closed) -> Result<f64, Error> {
    let index = |mol_kg: f64| -> Result<f64, Error> {
        let less = water.with(Component::Ca, -mol_kg).with(Component::Co3, -mol_kg);
        Ok(less.solved()?.saturation(Phase::Calcite).unwrap_or(-20.0))
    };
    let most = water.total(Component::Ca).min(water.total(Component::Co3));
    let (low, high) = if index(0.0)? > 0.0 {
        (0.0, most * (1.0 - 1e-9))
    } else {
        let mut low = -1e-4;
        while index(low)? < 0.0 && low > -0.1 {
            low *= 2.0;
        }
        (low, 0.0)
    };
    root(low, high, &mut { index })
}

/// Na/√((Ca + Mg)/2), each in meq/L.
fn sodium_adsorption_ratio(c: &Composition) -> Option<f64> {
    // (Ca + Mg)/2 in meq/L is Ca + Mg in mmol/L.
    let hardness = in_mmol_per_l(c[Solute::Ca]) + in_mmol_per_l(c[Solute::Mg]);
    (hardness > 0.0).then(|| in_mmol_per_l(c[Solute::Na]) / hardness.sqrt())
}

/// Bands of the sodium adsorption ratio with the conductances, dS/m, below which infiltration is
/// restricted slightly and severely.
const INFILTRATION: [(f64, f64, f64); 5] = [
    (
        parameter::IRRIGATION_SAR_1.number(),
        parameter::IRRIGATION_INFILTRATION_SLIGHT_1.ds_per_m(),
        parameter::IRRIGATION_INFILTRATION_SEVERE_1.ds_per_m(),
    ),
    (
        parameter::IRRIGATION_SAR_2.number(),
        parameter::IRRIGATION_INFILTRATION_SLIGHT_2.ds_per_m(),
        parameter::IRRIGATION_INFILTRATION_SEVERE_2.ds_per_m(),
    ),
    (
        parameter::IRRIGATION_SAR_3.number(),
        parameter::IRRIGATION_INFILTRATION_SLIGHT_3.ds_per_m(),
        parameter::IRRIGATION_INFILTRATION_SEVERE_3.ds_per_m(),
    ),
    (
        parameter::IRRIGATION_SAR_4.number(),
        parameter::IRRIGATION_INFILTRATION_SLIGHT_4.ds_per_m(),
        parameter::IRRIGATION_INFILTRATION_SEVERE_4.ds_per_m(),
    ),
    (
        parameter::IRRIGATION_SAR_5.number(),
        parameter::IRRIGATION_INFILTRATION_SLIGHT_5.ds_per_m(),
        parameter::IRRIGATION_INFILTRATION_SEVERE_5.ds_per_m(),
    ),
];

fn irrigation(water: &Water, ph: f64, sar: Option<f64>) -> Vec<IrrigationClass> {
    use IrrigationHazard as Hazard;
    let c = water.composition();
    let ec = in_us_per_cm(water.ec25()) / 1000.0;
    let mmol = |s: Solute| in_mmol_per_l(c[s]);
    let nitrogen = Solute::No3.molar_mass().get::<gram_per_mole>()
        - 3.0 * guardcell_units::atomic_weight::Element::O.g_per_mol();
    let above = |value: f64, slight: f64, severe: Option<f64>| {
        if severe.is_some_and(|s| value > s) {
            Restriction::Severe
        } else if value >= slight {
            Restriction::SlightToModerate
        } else {
            Restriction::None
        }
    };
    let mut list = Vec::new();
    let mut add = |hazard, value: f64, unit: &str, restriction| {
        list.push(IrrigationClass {
            hazard,
            value,
            unit: unit.to_owned(),
            restriction,
            sources: parameter::IRRIGATION_EC_SLIGHT
                .sources
                .iter()
                .map(|s| (*s).to_owned())
                .collect(),
        });
    };
    let (slight, severe) =
        (parameter::IRRIGATION_EC_SLIGHT.ds_per_m(), parameter::IRRIGATION_EC_SEVERE.ds_per_m());
    add(Hazard::Salinity, ec, "dS/m", above(ec, slight, Some(severe)));
    if let Some(sar) = sar {
        let band = INFILTRATION.iter().find(|(top, _, _)| sar <= *top);
        let restriction = match band {
            None => Restriction::Severe, // beyond the table
            Some((_, slight, _)) if ec > *slight => Restriction::None,
            Some((_, _, severe)) if ec >= *severe => Restriction::SlightToModerate,
            Some(_) => Restriction::Severe,
        };
        add(Hazard::Infiltration, ec, "dS/m", restriction);
        let (slight, severe) =
            (parameter::IRRIGATION_SAR_SLIGHT.number(), parameter::IRRIGATION_SAR_SEVERE.number());
        add(Hazard::SodiumByRoots, sar, "1", above(sar, slight, Some(severe)));
    }
    let na = mmol(Solute::Na);
    add(
        Hazard::SodiumByLeaves,
        na,
        "meq/L",
        above(na, parameter::IRRIGATION_NA_LEAVES.meq_per_l(), None),
    );
    let cl = mmol(Solute::Cl);
    let (slight, severe) =
        (parameter::IRRIGATION_CL_SLIGHT.meq_per_l(), parameter::IRRIGATION_CL_SEVERE.meq_per_l());
    add(Hazard::ChlorideByRoots, cl, "meq/L", above(cl, slight, Some(severe)));
    add(
        Hazard::ChlorideByLeaves,
        cl,
        "meq/L",
        above(cl, parameter::IRRIGATION_CL_LEAVES.meq_per_l(), None),
    );
    let n = mmol(Solute::No3) * nitrogen;
    let (slight, severe) =
        (parameter::IRRIGATION_N_SLIGHT.mg_per_l(), parameter::IRRIGATION_N_SEVERE.mg_per_l());
    add(Hazard::Nitrate, n, "mg/L", above(n, slight, Some(severe)));
    let hco3 = water.alkalinity_meq_l();
    let (slight, severe) = (
        parameter::IRRIGATION_HCO3_SLIGHT.meq_per_l(),
        parameter::IRRIGATION_HCO3_SEVERE.meq_per_l(),
    );
    add(Hazard::HydrogencarbonateOnLeaves, hco3, "meq/L", above(hco3, slight, Some(severe)));
    let normal = parameter::IRRIGATION_PH_LOW.ph()..=parameter::IRRIGATION_PH_HIGH.ph();
    let restriction =
        if normal.contains(&ph) { Restriction::None } else { Restriction::SlightToModerate };
    add(Hazard::Ph, ph, "[pH]", restriction);
    list
}
