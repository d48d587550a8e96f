//! How much a plant takes: leaf area, film load, roots, waste.

use crate::practice;
use crate::request::PlantEntry;
use guardcell_reference::parameters::{film, practice as p};

/// Volume sprayed on a plant in one pass, mL: both sides of its leaves at the film load that stays
/// after run-off, its hanging roots, and what misses or runs off. A gram of dilute feed is taken
/// as a millilitre.
pub(crate) fn one_pass_ml(plant: &PlantEntry) -> f64 {
    let waste = p::SPRAY_WASTE.number();
    kept_ml(plant) * waste
}

/// What stays on the plant after one pass, mL.
pub(crate) fn kept_ml(plant: &PlantEntry) -> f64 {
    let area_m2 = leaf_area_cm2(plant) * 1e-4;
    let roots = if plant.setting.roots_exposed() { p::ROOT_SHARE_EXPOSED.number() } else { 0.0 };
    area_m2 * p::SIDES_SPRAYED.number() * film::FILM_LOAD_DEFAULT.g_per_m2() * (1.0 + roots)
}

/// Leaf area of one side, cm²: as measured, or by size.
pub(crate) fn leaf_area_cm2(plant: &PlantEntry) -> f64 {
    plant.leaf_area_cm2.unwrap_or_else(|| practice::leaf_area(plant.size).cm2())
}
