//! What is said of a water.

use super::assumed::Assumed;
use super::indices::WaterIndices;
use super::residue::WaterResidue;
use crate::notice::{Bounds, Notice};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Figures of a report that do not agree.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Contradiction {
    /// A stable code in kebab case, such as `ec-against-ions`.
    pub code: String,
    /// What disagrees, with figures.
    pub message: String,
    /// The report's fields most likely off, the likeliest first; several where they cannot be
    /// distinguished.
    pub likely_off: Vec<String>,
}

/// How much feed fits under the ceiling.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Headroom {
    /// The ceiling asked for, µS/cm at 25 °C.
    pub ceiling_ec25_us_cm: f64,
    /// The ceiling less the water's own, µS/cm at 25 °C; negative where the water alone is over.
    pub ec25_us_cm: f64,
    /// The feed strength that reaches the ceiling in this water, mg/L, where a label was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub feed_strength_mg_l: Option<Bounds>,
    /// The nitrogen at that feed strength, mg/L as N.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub n_mg_l: Option<Bounds>,
}

/// The blend that reaches the target.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct BlendResponse {
    /// The share of this water, percent by volume.
    pub this_water_percent: f64,
    /// The share of the softer water, percent by volume.
    pub softer_water_percent: f64,
    /// Specific conductance of the blend, µS/cm at 25 °C.
    pub ec25_us_cm: f64,
    /// Alkalinity of the blend, mg/L as CaCO3.
    pub alkalinity_mg_l_caco3: f64,
    /// Hardness of the blend, mg/L as CaCO3.
    pub hardness_mg_l_caco3: f64,
    /// What the blend leaves when it dries.
    pub residue: WaterResidue,
    /// What the answer rests on.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub warnings: Vec<Notice>,
}

/// A water, completed, with what follows from it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct WaterResponse {
    /// The name on the report, or "water".
    pub name: String,
    /// Specific conductance at 25 °C, µS/cm: stated (converted to 25 °C) or computed.
    pub ec25_us_cm: f64,
    /// Specific conductance computed from the completed ions, µS/cm.
    pub ec25_from_ions_us_cm: f64,
    /// pH as stated, if it is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ph: Option<f64>,
    /// Total hardness, mg/L as CaCO3.
    pub hardness_mg_l_caco3: f64,
    /// Alkalinity, mg/L as CaCO3.
    pub alkalinity_mg_l_caco3: f64,
    /// The completed ions by solute (`ca`, `mg`, `k`, `na`, `nh4`, `no3`, `p`, `so4`, `cl`,
    /// `dic`), mg/L, each weighed as itself (`no3` as NO3, `p` as P, `so4` as SO4, `dic` as HCO3).
    pub ions_mg_l: BTreeMap<String, f64>,
    /// The same in mmol/L.
    pub ions_mmol_l: BTreeMap<String, f64>,
    /// What the water supplies by element (`n`, `p`, `k`, `ca`, `mg`, `s`, `na`, `cl`), mg/L.
    pub supplies_mg_l: BTreeMap<String, f64>,
    /// (cations − anions)/(cations + anions) of the stated and completed ions, percent.
    pub charge_imbalance_percent: f64,
    /// What was assumed.
    pub assumed: Vec<Assumed>,
    /// What does not agree.
    pub contradictions: Vec<Contradiction>,
    /// Saturation with calcite, sodium adsorption and irrigation classes.
    pub indices: WaterIndices,
    /// What the water alone leaves when it dries.
    pub residue: WaterResidue,
    /// The feed headroom, where asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub headroom: Option<Headroom>,
    /// The blend, where asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blend: Option<BlendResponse>,
    /// What a reader should know.
    pub warnings: Vec<Notice>,
}
