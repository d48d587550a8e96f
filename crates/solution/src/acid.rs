//! Acid against alkalinity.

mod caution;
mod dose;
mod name;

pub use name::AcidName;

use crate::notice::{Notice, NoticeCode};
use crate::speciation::closed::{Closed, carbonate_alkalinity, protons_held};
use crate::water::{Water, WaterReport};
use guardcell_call::{Bound, Bounded, Limited, bounds};
use guardcell_error::{Code, Error};
use guardcell_reference::acid::Acid;
use guardcell_reference::parameters::solution as parameter;
use guardcell_units::atomic_weight::Element;
use guardcell_units::basis::{CaCO3, Of};
use guardcell_units::quantity::{in_mmol_per_l, mmol_per_l};
use serde::{Deserialize, Serialize};

/// Target pH or alkalinity.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum AcidTarget {
    /// This pH, before the CO2 set free has escaped (4–8.3).
    Ph(f64),
    /// This much alkalinity left, mg/L as CaCO3, as a titration to pH 4.5 finds it.
    AlkalinityMgLCaco3(f64),
}

/// A question about acid.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct AcidRequest {
    /// The water; alkalinity is needed, and pH where the target is a pH.
    pub water: WaterReport,
    /// Which acid.
    pub acid: AcidName,
    /// Its strength, percent by mass.
    pub strength_percent: f64,
    /// Density of the liquid acid, kg/L; omitted for a solid, which is weighed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_kg_l: Option<f64>,
    /// The target.
    pub target: AcidTarget,
    /// How much water, L.
    pub volume_l: f64,
}

bounds! { AcidRequest {
    strength_percent: Bound::number(0.1, 100.0, "%"),
    density_kg_l: Bound::number(0.9, 1.9, "kg/L"),
    volume_l: Bound::number(0.001, 1e6, "L"),
} }

guardcell_call::setters! { AcidRequest {
    /// The same with a liquid acid of this density, 0.9 to 1.9 kg/L.
    with_density_kg_l(density_kg_l?: f64);
} }

impl AcidRequest {
    /// A solid acid of this strength in percent for a volume of water in litres.
    #[must_use]
    pub fn new(
        water: WaterReport,
        acid: AcidName,
        strength_percent: f64,
        target: AcidTarget,
        volume_l: f64,
    ) -> Self {
        Self { water, acid, strength_percent, density_kg_l: None, target, volume_l }
    }
}

impl Bounded for AcidTarget {
    const BOUNDS: &'static [(&'static str, Bound)] = &[
        ("ph", Bound::number(4.0, 8.3, "")),
        ("alkalinity_mg_l_caco3", Bound::number(0.0, 1000.0, "mg/L CaCO3")),
    ];

    fn check_bounds(&self) -> Result<(), Error> {
        match (self, Self::BOUNDS) {
            (Self::Ph(v), [(_, bound), _]) => v.check(bound, "/ph"),
            (Self::AlkalinityMgLCaco3(v), [_, (_, bound)]) => {
                v.check(bound, "/alkalinity_mg_l_caco3")
            }
            _ => Ok(()),
        }
    }
}

/// How much acid, and what it does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct AcidResponse {
    /// Acid to add, mL, where a density was given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// Acid to add, g.
    pub mass_g: f64,
    /// Alkalinity before, mg/L as CaCO3, to the same end point.
    pub alkalinity_before_mg_l_caco3: f64,
    /// Alkalinity neutralised, mg/L as CaCO3.
    pub neutralised_mg_l_caco3: f64,
    /// Alkalinity left, mg/L as CaCO3, as a titration of the treated water to
    /// `alkalinity_end_point_ph` finds it: carbonate, and what phosphate or citrate takes up on the
    /// way to that pH.
    pub alkalinity_after_mg_l_caco3: f64,
    /// The part of it that is carbonate and hydroxide, mg/L as CaCO3: what becomes scale when the
    /// water dries.
    pub carbonate_alkalinity_after_mg_l_caco3: f64,
    /// End point of the titration that defines alkalinity (Standard Methods 2320 B).
    pub alkalinity_end_point_ph: f64,
    /// pH after, before the CO2 set free has escaped.
    pub ph_after: f64,
    /// pH once the CO2 has escaped and the water is at rest with outdoor air.
    pub ph_after_co2_has_left: f64,
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
/// The water is closed while it is mixed: the CO2 set free has not escaped yet, so that inorganic
/// carbon stays and pH and alkalinity follow from each other. Afterwards CO2 leaves and the pH
/// climbs again, while the alkalinity stays; solids that can form then are warned of. Activities,
/// the pairs of calcium and magnesium with carbonate, sulfate, phosphate and citrate, and the
/// temperature of the water are those of [`crate::speciate`].
///
/// Alkalinity, before and after, is the strong acid that a titration to pH 4.5 uses (Standard
/// Methods 2320 B).
///
/// # Errors
/// [`Error`] where the alkalinity is not stated, the target is above what the water has,
/// or strength and density cannot be.
///
/// ```
/// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
/// use guardcell::solution::{AcidRequest, WaterReport, acid};
/// use guardcell::solution::acid::{AcidName, AcidTarget};
/// let water = WaterReport::from_toml("alkalinity_mg_l_caco3 = 250\nph = 7.8\n")?;
/// let target = AcidTarget::AlkalinityMgLCaco3(114.0);
/// let request = AcidRequest::new(water, AcidName::Sulfuric, 93.0, target, 378.54);
/// let answer = acid(&request.with_density_kg_l(1.835))?;
/// // 136 mg/L CaCO3 take one fluid ounce in 100 US gallons (UMass Extension).
/// assert!((answer.volume_ml.unwrap_or(0.0) - 29.57).abs() < 0.1);
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
pub fn acid(request: &AcidRequest) -> Result<AcidResponse, Error> {
    request.check_bounds()?;
    request.target.check_bounds().map_err(|e| e.within("/target"))?;
    let water = Water::from_report(&request.water).map_err(|e| e.within("/water"))?;
    let assumed = |what: &str| water.assumed().iter().any(|a| a.what == what);
    if assumed("alkalinity") {
        return Err(Error::new(
            Code::Missing,
            "the report does not state the alkalinity",
            "measure it (a drop test is enough): acid must not be dosed on a guess",
        )
        .at("/water/alkalinity"));
    }
    let mut warnings = Vec::new();
    let ph_before = match water.ph() {
        Some(ph) => ph,
        None if matches!(request.target, AcidTarget::Ph(_)) => {
            return Err(Error::new(
                Code::Missing,
                "the report does not state the pH",
                "give the pH of the water, or a residual alkalinity as target",
            )
            .at("/water/ph"));
        }
        None => {
            warnings.push(Notice::new(
                NoticeCode::PhAssumed,
                format!(
                    "The report states no pH; {} is taken. It changes the pH after, not the \
                     amount of a strong acid.",
                    parameter::WATER_PH_ASSUMED.ph()
                ),
            ));
            parameter::WATER_PH_ASSUMED.ph()
        }
    };
    let kind = table(request.acid)?;
    let before = Closed::from_alkalinity(
        &water.composition(),
        water.temperature(),
        ph_before,
        water.alkalinity_meq_l(),
    )?;
    let meq_l = |eq_kg: f64| eq_kg * 1e3 * before.water_kg_l();
    let alkalinity_before = meq_l(before.alkalinity()?);
    let dose = match request.target {
        AcidTarget::Ph(ph) if ph >= ph_before => None,
        AcidTarget::Ph(ph) => Some(dose::to_ph(&before, kind, ph)?),
        AcidTarget::AlkalinityMgLCaco3(mg) => {
            let meq = 2.0 * in_mmol_per_l(Of::<CaCO3>::from_mg_per_l(mg).molar());
            if meq >= alkalinity_before {
                None
            } else {
                Some(dose::to_alkalinity(&before, kind, meq * 1e-3 / before.water_kg_l())?)
            }
        }
    };
    let Some(dose) = dose else {
        return Err(Error::new(
            Code::Unreachable,
            format!(
                "the water has an alkalinity of {:.0} mg/L CaCO3 at pH {ph_before}; acid only \
                 lowers both",
                caco3(alkalinity_before)
            ),
            "give a target below that",
        )
        .at("/target"));
    };
    let treated = dose::treat(&before, kind, dose);
    let solved = treated.solved()?;
    let rest = treated.open(parameter::AIR_CO2.atm())?;
    let after = meq_l(treated.alkalinity()?);
    let mmol_l = meq_l(dose);
    let mass_g = mmol_l / 1000.0 * kind.formula.g_per_mol() / (request.strength_percent / 100.0)
        * request.volume_l;
    let nutrient = |e: Element| mmol_l * f64::from(kind.formula.count(e)) * e.g_per_mol();
    if after <= 0.0 {
        warnings.push(Notice::new(
            NoticeCode::NoBufferLeft,
            "No alkalinity is left: the pH can swing with every addition. Leave some (50 to \
             75 mg/L CaCO3 is common).",
        ));
    }
    warnings.extend(dose::solids(&solved, &rest));
    Ok(AcidResponse {
        volume_ml: request.density_kg_l.map(|d| mass_g / d),
        mass_g,
        alkalinity_before_mg_l_caco3: caco3(alkalinity_before),
        neutralised_mg_l_caco3: caco3(alkalinity_before - after),
        alkalinity_after_mg_l_caco3: caco3(after),
        carbonate_alkalinity_after_mg_l_caco3: caco3(meq_l(carbonate_alkalinity(&solved))),
        alkalinity_end_point_ph: parameter::ALKALINITY_END_POINT.ph(),
        ph_after: solved.ph(),
        ph_after_co2_has_left: rest.ph(),
        n_mg_l: nutrient(Element::N),
        p_mg_l: nutrient(Element::P),
        s_mg_l: nutrient(Element::S),
        protons_per_mole: f64::from(kind.protons) - protons_held(&solved, kind.ligand),
        cautions: caution::cautions(request.acid),
        warnings,
    })
}

fn table(name: AcidName) -> Result<&'static Acid, Error> {
    let key = match name {
        AcidName::Phosphoric => "phosphoric",
        AcidName::Sulfuric => "sulfuric",
        AcidName::Nitric => "nitric",
        AcidName::Citric => "citric",
    };
    guardcell_reference::acid::acid(key).ok_or_else(|| {
        Error::new(
            Code::Missing,
            format!("the table of acids lacks {key}"),
            "restore data/acids.csv",
        )
        .at("/acid")
    })
}

fn caco3(meq_l: f64) -> f64 {
    Of::<CaCO3>::from_molar(mmol_per_l(meq_l / 2.0)).mg_per_l()
}
