//! Acid against alkalinity.

use crate::error::SolutionError;
use crate::notice::Notice;
use crate::water::WaterReport;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The acids of the trade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum AcidName {
    /// H3PO4.
    Phosphoric,
    /// H2SO4.
    Sulfuric,
    /// HNO3.
    Nitric,
    /// C6H8O7, as the anhydrous solid or its solution.
    Citric,
}

/// Where the acid shall bring the water.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum AcidTarget {
    /// This pH, before the CO2 set free has escaped (4–8.3).
    Ph(f64),
    /// This much alkalinity left, mg/L as CaCO3.
    AlkalinityMgLCaco3(f64),
}

/// A question about acid.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AcidRequest {
    /// The water; alkalinity is needed, and pH where the target is a pH.
    pub water: WaterReport,
    /// Which acid.
    pub acid: AcidName,
    /// Its strength, percent by mass.
    pub strength_percent: f64,
    /// Density of the liquid acid, kg/L; left out for a solid, which is weighed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_kg_l: Option<f64>,
    /// The target.
    pub target: AcidTarget,
    /// How much water, L.
    pub volume_l: f64,
}

/// How much acid, and what it does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AcidAnswer {
    /// Acid to add, mL, where a density was given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// Acid to add, g.
    pub mass_g: f64,
    /// Alkalinity before, mg/L as CaCO3.
    pub alkalinity_before_mg_l_caco3: f64,
    /// Alkalinity neutralised, mg/L as CaCO3.
    pub neutralised_mg_l_caco3: f64,
    /// Alkalinity left, mg/L as CaCO3.
    pub alkalinity_after_mg_l_caco3: f64,
    /// pH after, before the CO2 set free has escaped.
    pub ph_after: f64,
    /// N added, mg/L.
    pub n_mg_l: f64,
    /// P added, mg/L as P.
    pub p_mg_l: f64,
    /// S added, mg/L as S.
    pub s_mg_l: f64,
    /// Protons that one mole of the acid gives up at that pH.
    pub protons_per_mole: f64,
    /// The cautions, always in full.
    pub cautions: Vec<Notice>,
    /// What a reader should know.
    pub warnings: Vec<Notice>,
}

/// The acid that brings a water's alkalinity to a target.
///
/// # Errors
/// [`SolutionError`] where the alkalinity is not stated, the target is above what the water has,
/// or strength and density cannot be.
pub fn acid(request: &AcidRequest) -> Result<AcidAnswer, SolutionError> {
    let _ = request;
    Err(SolutionError::Solver { what: "acid".into(), iterations: 0 })
}
