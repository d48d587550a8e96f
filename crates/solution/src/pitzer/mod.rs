//! Concentrated stocks: activities by the ion-interaction model of Pitzer, and what comes down.
//!
//! Above about 1 mol/kg ion pairs no longer describe a solution; the equations of Pitzer in the
//! form of Harvie, Møller & Weare (1984), with the higher electrostatic terms of Pitzer (1975),
//! hold to saturation. The parameters are those of `data/pitzer.csv` (K, Na, Mg, Ca, Cl, SO4 from
//! 0 to 40 °C and more) and, for ammonium, nitrate and phosphate, those of `data/salts.csv` at
//! 25 °C, whose solids have their constants from the solubility of the salt alone at the
//! temperature: errors of the parameters with temperature largely cancel.
//!
//! Ions or pairs without parameters are either bounded by published neighbours, in which case an
//! answer is an interval, or outside the model, which is an error with the reason.

mod activity;
mod brine;
mod mixing;
mod solid;

pub use brine::Brine;
pub use solid::Saturation;
