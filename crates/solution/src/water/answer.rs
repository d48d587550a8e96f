//! The answer to a question about a water.

use super::assumed::in_words;
use super::blend;
use super::complete::complete;
use super::completed::Water;
use super::contradict::contradictions;
use super::indices;
use super::report::{HeadroomRequest, WaterRequest};
use super::response::{Headroom, WaterResponse};
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
use std::collections::BTreeMap;

/// Reads a water report, completes it and says what follows from it.
///
/// # Errors
/// [`Error`] with a JSON Pointer for a figure that cannot be, a report that states
/// nothing, or a blend that cannot reach its target.
///
/// ```
/// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
/// use guardcell::solution::{WaterReport, WaterRequest, water};
/// let report = WaterReport::from_toml("hardness = \"14 °dH\"\nec_us_cm = 550\nph = 7.6\n")?;
/// let answer = water(&WaterRequest::new(report))?;
/// assert!((answer.hardness_mg_l_caco3 - 249.9).abs() < 0.2);
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
pub fn water(request: &WaterRequest) -> Result<WaterResponse, Error> {
    let done = complete(&request.water).map_err(|e| e.within("/water"))?;
    let contradictions = contradictions(&done)?;
    let w = &done.water;
    let mut warnings = Vec::new();
    if done.imbalance_percent.abs() > parameter::ANALYSIS_AGREEMENT.percent() {
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
