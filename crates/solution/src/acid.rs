//! Acid against alkalinity.

use crate::notice::{Notice, NoticeCode};
use crate::water::{Carbonate, Water, WaterReport};
use guardcell_call::{Bound, Bounded, Limited, bounds};
use guardcell_error::{Code, Error};
use guardcell_reference::acid::Acid;
use guardcell_reference::parameters::solution as parameter;
use guardcell_reference::{Composition, Solute};
use guardcell_units::atomic_weight::Element;
use guardcell_units::basis::{CaCO3, Of};
use guardcell_units::quantity::{in_mmol_per_l, mmol_per_l};
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;
use serde::{Deserialize, Serialize};

/// The acids of the trade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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

/// Target pH or alkalinity.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum AcidTarget {
    /// This pH, before the CO2 set free has escaped (4–8.3).
    Ph(f64),
    /// This much alkalinity left, mg/L as CaCO3.
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

    /// The same with a liquid acid of this density, 0.9 to 1.9 kg/L.
    #[must_use]
    pub fn with_density_kg_l(mut self, density_kg_l: f64) -> Self {
        self.density_kg_l = Some(density_kg_l);
        self
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
/// The water is taken as closed while it is mixed: the CO2 set free has not escaped yet, so that
/// inorganic carbon stays and pH and alkalinity follow from each other. Afterwards CO2 leaves and
/// the pH climbs again, while the alkalinity stays. How many protons a mole of acid gives up
/// follows from its dissociation constants at the final pH: 1 for nitric, 2 for sulfuric, a little
/// over 1 for phosphoric, 2 to 3 for citric acid.
///
/// # Errors
/// [`Error`] where the alkalinity is not stated, the target is above what the water has,
/// or strength and density cannot be.
///
/// ```
/// use guardcell_solution::{AcidRequest, WaterReport, acid};
/// use guardcell_solution::acid::{AcidName, AcidTarget};
/// let water = WaterReport::from_toml("alkalinity_mg_l_caco3 = 250\nph = 7.8\n")?;
/// let target = AcidTarget::AlkalinityMgLCaco3(114.0);
/// let request = AcidRequest::new(water, AcidName::Sulfuric, 93.0, target, 378.54);
/// let answer = acid(&request.with_density_kg_l(1.835))?;
/// // 136 mg/L CaCO3 take one fluid ounce in 100 US gallons (UMass Extension).
/// assert!((answer.volume_ml.unwrap_or(0.0) - 29.57).abs() < 0.1);
/// # Ok::<(), guardcell_solution::Error>(())
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
                    parameter::WATER_PH_ASSUMED.value
                ),
            ));
            parameter::WATER_PH_ASSUMED.value
        }
    };
    let temp_c = water.temperature().get::<degree_celsius>();
    let carbonate = Carbonate::at(temp_c, ionic_strength(&water.composition()));
    let before = water.alkalinity_meq_l();
    let dic = carbonate.dic_mmol_l(before, ph_before);
    let (after, ph_after) = match request.target {
        AcidTarget::Ph(ph) => (carbonate.alkalinity_meq_l(dic, ph), ph),
        AcidTarget::AlkalinityMgLCaco3(mg) => {
            let meq = 2.0 * in_mmol_per_l(Of::<CaCO3>::from_mg_per_l(mg).molar());
            (meq, carbonate.ph(meq, dic))
        }
    };
    if after >= before {
        return Err(Error::new(
            Code::Unreachable,
            format!(
                "the water has an alkalinity of {:.0} mg/L CaCO3 at pH {ph_before}; acid only \
                 lowers both",
                caco3(before)
            ),
            "give a target below that",
        )
        .at("/target"));
    }
    let kind = table(request.acid)?;
    let protons = protons(kind, ph_after);
    let mmol_l = (before - after) / protons;
    let mass_g = mmol_l / 1000.0 * kind.formula.g_per_mol() / (request.strength_percent / 100.0)
        * request.volume_l;
    let nutrient = |e: Element| mmol_l * f64::from(kind.formula.count(e)) * e.g_per_mol();
    if after < 0.0 {
        warnings.push(Notice::new(
            NoticeCode::NoBufferLeft,
            "Nothing of the alkalinity is left: the pH can swing with every addition. Leave some \
             (50 to 75 mg/L CaCO3 is common).",
        ));
    }
    Ok(AcidResponse {
        volume_ml: request.density_kg_l.map(|d| mass_g / d),
        mass_g,
        alkalinity_before_mg_l_caco3: caco3(before),
        neutralised_mg_l_caco3: caco3(before - after),
        alkalinity_after_mg_l_caco3: caco3(after),
        ph_after,
        n_mg_l: nutrient(Element::N),
        p_mg_l: nutrient(Element::P),
        s_mg_l: nutrient(Element::S),
        protons_per_mole: protons,
        cautions: cautions(request.acid),
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

/// Protons that one mole of the acid gives up at a pH.
fn protons(acid: &Acid, ph: f64) -> f64 {
    // Weights of the forms that have lost 0, 1, 2, … protons.
    let mut weight = 1.0;
    let (mut sum, mut lost) = (1.0, 0.0);
    for (i, pk) in acid.pk.iter().enumerate() {
        weight *= 10_f64.powf(ph - pk);
        sum += weight;
        lost += (i + 1) as f64 * weight;
    }
    lost / sum
}

fn caco3(meq_l: f64) -> f64 {
    Of::<CaCO3>::from_molar(mmol_per_l(meq_l / 2.0)).mg_per_l()
}

/// Ionic strength of a water, mol/L, carbon as bicarbonate.
fn ionic_strength(c: &Composition) -> f64 {
    c.iter()
        .map(|(s, m)| {
            let z2 = match s {
                Solute::Ca | Solute::Mg | Solute::So4 => 4.0,
                Solute::Urea => 0.0,
                _ => 1.0,
            };
            z2 * in_mmol_per_l(m)
        })
        .sum::<f64>()
        / 2000.0
}

/// The cautions, in full for every acid.
fn cautions(acid: AcidName) -> Vec<Notice> {
    let mut list = vec![
        Notice::new(
            NoticeCode::AcidIntoWater,
            "Always pour acid into water, slowly, stirring; never water into acid.",
        ),
        Notice::new(
            NoticeCode::ProtectEyesAndSkin,
            "Wear goggles or a face shield, acid-proof gloves and an apron; have running water \
             within reach, and rinse splashes at once and for long.",
        ),
        Notice::new(
            NoticeCode::NeverNearHypochlorite,
            "Never let acid meet bleach or another hypochlorite: poisonous chlorine gas is set \
             free. Keep them in different rooms.",
        ),
        Notice::new(
            NoticeCode::LabelAndLocalRules,
            "Follow the safety data sheet of the acid and the local rules for keeping, using and \
             discharging it; check that pipes and injector are made for acid.",
        ),
        Notice::new(
            NoticeCode::MeasureAfter,
            "Check pH and alkalinity of the treated water before it goes on plants, and again \
             after a day.",
        ),
    ];
    match acid {
        AcidName::Nitric => list.push(Notice::new(
            NoticeCode::NitricFumes,
            "Nitric acid gives off choking fumes and oxidises: open it only outdoors or under \
             extraction, away from anything that burns.",
        )),
        AcidName::Sulfuric => list.push(Notice::new(
            NoticeCode::SulfuricHeat,
            "Strong sulfuric acid heats water fiercely and chars skin and cloth; dilute in small \
             steps and let it cool.",
        )),
        AcidName::Phosphoric | AcidName::Citric => {}
    }
    list
}
