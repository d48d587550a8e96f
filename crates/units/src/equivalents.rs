//! The definitions that hardness and alkalinity share.

use crate::basis::{Basis, CaCO3, CaO, HCO3};

/// mg of CaCO3 per meq: half the formula mass, since Ca2+ and CO3(2-) carry two charges.
pub(crate) const MG_CACO3_PER_MEQ: f64 = CaCO3::FORMULA.g_per_mol() / 2.0;
/// mg of CaO per meq.
pub(crate) const MG_CAO_PER_MEQ: f64 = CaO::FORMULA.g_per_mol() / 2.0;
/// mg of HCO3- per meq.
pub(crate) const MG_HCO3_PER_MEQ: f64 = HCO3::FORMULA.g_per_mol();

/// meq/L of one German degree: 10 mg CaO per litre.
pub(crate) const MEQ_PER_GERMAN_DEGREE: f64 = 10.0 / MG_CAO_PER_MEQ;
/// meq/L of one French degree: 10 mg CaCO3 per litre.
pub(crate) const MEQ_PER_FRENCH_DEGREE: f64 = 10.0 / MG_CACO3_PER_MEQ;
/// mg in one grain, exact by the yard and pound agreement of 1959 (7000 grains in 0.45359237 kg).
pub(crate) const MG_PER_GRAIN: f64 = 64.798_91;
/// Litres in one imperial gallon, exact (UK Weights and Measures Act 1985).
pub(crate) const L_PER_IMPERIAL_GALLON: f64 = 4.546_09;
/// Litres in one US gallon of 231 cubic inches, exact (NIST Handbook 44, appendix C).
pub(crate) const L_PER_US_GALLON: f64 = 3.785_411_784;
/// meq/L of one Clark degree: one grain of CaCO3 per imperial gallon.
pub(crate) const MEQ_PER_CLARK_DEGREE: f64 =
    MG_PER_GRAIN / L_PER_IMPERIAL_GALLON / MG_CACO3_PER_MEQ;
/// meq/L of one grain of CaCO3 per US gallon.
pub(crate) const MEQ_PER_GRAIN_PER_US_GALLON: f64 =
    MG_PER_GRAIN / L_PER_US_GALLON / MG_CACO3_PER_MEQ;
