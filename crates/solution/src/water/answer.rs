//! The answer to a question about a water.

use super::Water;
use super::blend;
use super::complete::complete;
use super::contradict::contradictions;
use super::indices::{self, WaterIndices};
use super::report::{HeadroomRequest, WaterRequest};
use crate::label::{ELEMENTS, element_key};
use crate::notice::{Bounds, Notice, NoticeCode};
use crate::product::{Product, element_of_ions};
use guardcell_call::Bounded;
use guardcell_error::Error;
use guardcell_reference::parameters::solution as parameter;
use guardcell_reference::{Composition, Solute};
use guardcell_units::basis::{Basis, P};
use guardcell_units::quantity::{in_mmol_per_l, in_us_per_cm, mg_per_l};
use guardcell_units::uom::si::molar_mass::gram_per_mole;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// One figure the report did not state.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Assumed {
    /// Which figure, such as `na` or `ph`.
    pub what: String,
    /// The assumed value, in `unit`.
    pub value: f64,
    /// The unit as a UCUM code.
    pub unit: String,
    /// How it was arrived at.
    pub how: String,
}

/// Figures of a report that do not agree.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Contradiction {
    /// A stable code in kebab case, such as `ec-against-ions`.
    pub code: String,
    /// What disagrees, with figures.
    pub message: String,
    /// The report's fields most likely off, the likeliest first; several where they cannot be
    /// distinguished.
    pub likely_off: Vec<String>,
}

/// What a water alone leaves when it dries, in mg per litre dried.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct WaterResidue {
    /// Calcium and magnesium carbonate scale, after the bicarbonate has lost its CO2, mg/L as CaCO3.
    /// It needs an acid (vinegar, citric) to come off, not water.
    pub scale_caco3_mg_l: f64,
    /// The same as it lies on the leaf (calcite, and magnesium carbonate with its crystal water),
    /// mg/L.
    pub scale_mg_l: f64,
    /// Everything else (sulfates, chlorides, sodium and potassium salts), without crystal water,
    /// mg/L. Plain soft water rinses it off.
    pub other_salts_mg_l: f64,
    /// Both together, mg/L.
    pub total_mg_l: f64,
}

/// How much feed fits under the ceiling.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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

/// Reads a water report, completes it and says what follows from it.
///
/// # Errors
/// [`Error`] with a JSON Pointer for a figure that cannot be, a report that states
/// nothing, or a blend that cannot reach its target.
///
/// ```
/// use guardcell_solution::{WaterReport, WaterRequest, water};
/// let report = WaterReport::from_toml("hardness = \"14 °dH\"\nec_us_cm = 550\nph = 7.6\n")?;
/// let answer = water(&WaterRequest::new(report))?;
/// assert!((answer.hardness_mg_l_caco3 - 249.9).abs() < 0.2);
/// # Ok::<(), guardcell_solution::Error>(())
/// ```
pub fn water(request: &WaterRequest) -> Result<WaterResponse, Error> {
    let done = complete(&request.water).map_err(|e| e.within("/water"))?;
    let contradictions = contradictions(&done)?;
    let w = &done.water;
    let mut warnings = Vec::new();
    if done.imbalance_percent.abs() > parameter::ANALYSIS_AGREEMENT.value {
        warnings.push(
            Notice::new(
                NoticeCode::ChargeImbalance,
                format!(
                    "Cations and anions differ by {:.0} %: a figure is wrong or missing, and what \
                     follows from this report is as doubtful.",
                    done.imbalance_percent.abs()
                ),
            )
            .with_sources(parameter::ANALYSIS_AGREEMENT.sources),
        );
    }
    if !w.assumed().is_empty() {
        warnings.push(Notice::new(
            NoticeCode::FiguresAssumed,
            format!("Not in the report and assumed: {}.", in_words(w.assumed())),
        ));
    }
    let headroom = request.headroom.as_ref().map(|h| headroom(w, h)).transpose()?;
    if let Some(h) = &headroom
        && h.ec25_us_cm <= 0.0
    {
        warnings.push(Notice::new(
            NoticeCode::WaterOverCeiling,
            "The water alone is over the ceiling: no feed fits; blend it with softer water.",
        ));
    }
    let blend = request.blend.as_ref().map(|b| blend::answer(w, b)).transpose()?;
    let (ions_mg_l, ions_mmol_l) = ions(&w.as_reported());
    Ok(WaterResponse {
        name: w.name().to_owned(),
        ec25_us_cm: in_us_per_cm(w.ec25()),
        ec25_from_ions_us_cm: done.ec_from_ions,
        ph: w.ph(),
        hardness_mg_l_caco3: w.hardness().mg_per_l(),
        alkalinity_mg_l_caco3: w.alkalinity().mg_per_l(),
        ions_mg_l,
        ions_mmol_l,
        supplies_mg_l: supplies(&w.as_reported()),
        charge_imbalance_percent: done.imbalance_percent,
        assumed: w.assumed().to_vec(),
        contradictions,
        indices: indices::of(w)?,
        residue: w.residue(),
        headroom,
        blend,
        warnings,
    })
}

/// The names of assumed figures as words.
pub(crate) fn in_words(assumed: &[Assumed]) -> String {
    let words: Vec<&str> = assumed
        .iter()
        .map(|a| match a.what.as_str() {
            "ca" => "calcium",
            "mg" => "magnesium",
            "na" => "sodium",
            "k" => "potassium",
            "nh4" => "ammonium",
            "no3" => "nitrate",
            "p" => "phosphate",
            "so4" => "sulfate",
            "cl" => "chloride",
            "ph" => "pH",
            "na_closing" => "sodium to close the charge",
            "cl_closing" => "chloride to close the charge",
            other => other,
        })
        .collect();
    words.join(", ")
}

/// Solutes of a water in mg/L and mmol/L.
fn ions(c: &Composition) -> (BTreeMap<String, f64>, BTreeMap<String, f64>) {
    let mut mass = BTreeMap::new();
    let mut molar = BTreeMap::new();
    for (s, m) in c.iter().filter(|(s, _)| *s != Solute::Urea) {
        let g_mol = if s == Solute::P {
            P::FORMULA.g_per_mol()
        } else {
            s.molar_mass().get::<gram_per_mole>()
        };
        mass.insert(s.name().to_owned(), in_mmol_per_l(m) * g_mol);
        molar.insert(s.name().to_owned(), in_mmol_per_l(m));
    }
    (mass, molar)
}

fn supplies(c: &Composition) -> BTreeMap<String, f64> {
    ELEMENTS
        .into_iter()
        .filter_map(|e| element_of_ions(c, e).map(|mg| (element_key(e), mg)))
        .collect()
}

fn headroom(w: &Water, request: &HeadroomRequest) -> Result<Headroom, Error> {
    let ceiling = request.ceiling_ec25_us_cm;
    request.check_bounds().map_err(|e| e.within("/headroom"))?;
    let room = ceiling - in_us_per_cm(w.ec25());
    let mut answer = Headroom {
        ceiling_ec25_us_cm: ceiling,
        ec25_us_cm: room,
        feed_strength_mg_l: None,
        n_mg_l: None,
    };
    if let Some(label) = &request.label {
        let product = Product::new(label).map_err(|e| e.within("/headroom/label"))?;
        let strength = if room > 0.0 {
            crate::meter::strength_at_ec(&product, w, ceiling)?
        } else {
            Bounds { low: 0.0, value: Some(0.0), high: 0.0 }
        };
        answer.n_mg_l = Some(strength.map(|s| product.nitrogen_at(mg_per_l(s)).mg_per_l()));
        answer.feed_strength_mg_l = Some(strength);
    }
    Ok(answer)
}
