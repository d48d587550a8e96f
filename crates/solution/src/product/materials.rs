//! From "derived from" to ions: the amounts of the named materials that fit the analysis.

use super::figures::{element_of_ions, set};
use super::nonnegative;
use crate::label::{Analysis, Label};
use crate::notice::{Notice, NoticeCode};
use guardcell_reference::material::{Material, MaterialKind, materials_named};
use guardcell_reference::parameters::solution as parameter;
use guardcell_reference::{Composition, Solute};
use guardcell_units::atomic_weight::Element;
use guardcell_units::quantity::in_mmol_per_l;

/// Materials fitted to an analysis, per unit of product.
pub(super) struct Fitted {
    pub(super) composition: Composition,
    pub(super) materials: Vec<(&'static str, f64)>,
}

impl Fitted {
    /// Splits the stated total nitrogen as the fitted materials do.
    pub(super) fn split_nitrogen(&self, analysis: &mut Analysis, notes: &mut Vec<Notice>) {
        let n = Element::N.g_per_mol();
        let mmol = |s: Solute| in_mmol_per_l(self.composition[s]) * n;
        let forms = [mmol(Solute::No3), mmol(Solute::Nh4), 2.0 * mmol(Solute::Urea)];
        let sum: f64 = forms.iter().sum();
        let total = analysis.of_element(Element::N);
        if sum <= 0.0 || total <= 0.0 {
            return;
        }
        let [nitrate, ammoniacal, urea] = forms.map(|f| f / sum * total);
        analysis.nitrate_n = nitrate;
        analysis.ammoniacal_n = ammoniacal;
        analysis.urea_n = urea;
        analysis.other_n = 0.0;
        notes.push(Notice::new(
            NoticeCode::NitrogenFormsFromMaterials,
            "The label does not split its nitrogen; the forms follow from the materials it is \
             derived from.",
        ));
    }
}

/// mg of a nutrient in one mmol of a material.
type Content = fn(&Material) -> f64;

/// One nutrient that the fit has to meet.
struct Row {
    name: &'static str,
    stated: f64,
    of: Content,
}

fn per_mol(m: &Material, e: Element) -> f64 {
    f64::from(m.formula.count(e)) * e.g_per_mol()
}

/// Rows of the stated nutrients, in mg per mmol of material.
fn rows(analysis: &Analysis) -> Vec<Row> {
    let mut rows = Vec::new();
    let has_other = analysis.other_n > 0.0;
    if analysis.forms_stated && !has_other {
        let forms: [(&'static str, f64, Content); 3] = [
            ("nitrate N", analysis.nitrate_n, |m| {
                f64::from(m.ion(Solute::No3)) * Element::N.g_per_mol()
            }),
            ("ammoniacal N", analysis.ammoniacal_n, |m| {
                f64::from(m.ion(Solute::Nh4)) * Element::N.g_per_mol()
            }),
            ("urea N", analysis.urea_n, |m| {
                2.0 * f64::from(m.ion(Solute::Urea)) * Element::N.g_per_mol()
            }),
        ];
        rows.extend(forms.map(|(name, stated, of)| Row { name, stated, of }));
    } else if analysis.is_stated(Element::N) {
        rows.push(Row {
            name: "N",
            stated: analysis.of_element(Element::N),
            of: |m| {
                (f64::from(m.ion(Solute::No3))
                    + f64::from(m.ion(Solute::Nh4))
                    + 2.0 * f64::from(m.ion(Solute::Urea)))
                    * Element::N.g_per_mol()
            },
        });
    }
    let elements: [(&'static str, Element, Content); 13] = [
        ("P", Element::P, |m| per_mol(m, Element::P)),
        ("K", Element::K, |m| per_mol(m, Element::K)),
        ("Ca", Element::Ca, |m| per_mol(m, Element::Ca)),
        ("Mg", Element::Mg, |m| per_mol(m, Element::Mg)),
        ("S", Element::S, |m| per_mol(m, Element::S)),
        ("Na", Element::Na, |m| per_mol(m, Element::Na)),
        ("Cl", Element::Cl, |m| per_mol(m, Element::Cl)),
        ("B", Element::B, |m| per_mol(m, Element::B)),
        ("Cu", Element::Cu, |m| per_mol(m, Element::Cu)),
        ("Fe", Element::Fe, |m| per_mol(m, Element::Fe)),
        ("Mn", Element::Mn, |m| per_mol(m, Element::Mn)),
        ("Mo", Element::Mo, |m| per_mol(m, Element::Mo)),
        ("Zn", Element::Zn, |m| per_mol(m, Element::Zn)),
    ];
    rows.extend(
        elements.into_iter().filter(|(_, e, _)| analysis.is_stated(*e)).map(|(name, e, of)| Row {
            name,
            stated: analysis.of_element(e),
            of,
        }),
    );
    rows
}

/// Fits the named materials; `None` (with a notice) where there are none, or where they cannot
/// make up the analysis.
pub(super) fn fit(label: &Label, analysis: &Analysis, notes: &mut Vec<Notice>) -> Option<Fitted> {
    let candidates = candidates(label, notes);
    if candidates.is_empty() {
        return None;
    }
    let rows = rows(analysis);
    let amounts = amounts(&rows, &candidates);
    let mut composition = Composition::PURE_WATER;
    // Traces are left to the analysis; only what brings counted ions is listed.
    let mut materials = Vec::new();
    for (m, mg) in candidates.iter().zip(&amounts).filter(|(m, mg)| **mg > 0.0 && is_major(m)) {
        let mmol = mg / m.formula.g_per_mol();
        for s in Solute::ALL {
            let now = in_mmol_per_l(composition[s]);
            set(&mut composition, s, now + mmol * f64::from(m.ion(s)));
        }
        materials.push((m.name, *mg));
    }
    if !fits(&rows, &candidates, &amounts, notes) {
        return None;
    }
    if element_of_ions(&composition, Element::N).unwrap_or(0.0) <= 0.0 && materials.is_empty() {
        return None;
    }
    Some(Fitted { composition, materials })
}

/// Whether a material brings ions that are counted.
fn is_major(m: &Material) -> bool {
    matches!(m.kind, MaterialKind::Salt | MaterialKind::Molecule | MaterialKind::Acid)
}

/// The materials that the names on the label can mean; names that are not in the table are noted.
fn candidates(label: &Label, notes: &mut Vec<Notice>) -> Vec<&'static Material> {
    let mut candidates: Vec<&'static Material> = Vec::new();
    let mut unknown = Vec::new();
    for name in &label.derived_from {
        let found = materials_named(name);
        if found.is_empty() {
            unknown.push(name.clone());
        }
        for m in found {
            if !candidates.contains(&m) {
                candidates.push(m);
            }
        }
    }
    if !unknown.is_empty() {
        notes.push(Notice::new(
            NoticeCode::MaterialNotInTable,
            format!(
                "Derived from {}: not in the table of materials, so its ions are not counted.",
                unknown.join(", ")
            ),
        ));
    }
    candidates
}

/// The amounts, mg per unit, that come nearest to the analysis within the rounding of its figures.
fn amounts(rows: &[Row], candidates: &[&Material]) -> Vec<f64> {
    // A label rounds each figure: half of its last digit and about 2 % are no misfit.
    let sigma = |r: &Row| {
        (r.stated * parameter::LABEL_FIGURE_TOLERANCE.percent() / 100.0).max(
            parameter::LABEL_FIGURE_STEP.percent() * 10.0 * if trace(r.name) { 0.02 } else { 1.0 },
        )
    };
    // Unknowns in mg of material per unit, so that the ridge acts on masses.
    let matrix: Vec<Vec<f64>> = rows
        .iter()
        .map(|r| candidates.iter().map(|m| (r.of)(m) / m.formula.g_per_mol() / sigma(r)).collect())
        .collect();
    let target: Vec<f64> = rows.iter().map(|r| r.stated / sigma(r)).collect();
    let ridge = 1.0 / (parameter::MATERIAL_RIDGE.mg_per_g() * parameter::MATERIAL_RIDGE.mg_per_g());
    nonnegative::solve(&matrix, &target, ridge, candidates.len())
}

/// Whether the materials make up the analysis; a misfit is noted.
fn fits(rows: &[Row], candidates: &[&Material], amounts: &[f64], notes: &mut Vec<Notice>) -> bool {
    let worst = rows
        .iter()
        .filter(|r| !trace(r.name))
        .map(|r| {
            let made: f64 = candidates
                .iter()
                .zip(amounts)
                .map(|(m, mg)| (r.of)(m) / m.formula.g_per_mol() * mg)
                .sum();
            (r.name, r.stated, made)
        })
        .max_by(|a, b| off(a).total_cmp(&off(b)));
    let Some(w @ (name, stated, made)) = worst else { return true };
    let misfit = off(&w) * 100.0;
    if misfit > parameter::MATERIAL_MISFIT_LIMIT.percent() {
        notes.push(Notice::new(
            NoticeCode::MaterialsDoNotFit,
            format!(
                "The materials named after \"derived from\" make {:.1} % {name} where the \
                 analysis says {:.1} %; they are not used, and the counter-ions are bounded \
                 instead.",
                made / 10.0,
                stated / 10.0
            ),
        ));
        return false;
    }
    if misfit > parameter::LABEL_FIGURE_TOLERANCE.percent() {
        notes.push(Notice::new(
            NoticeCode::MaterialMisfit,
            format!(
                "The materials named after \"derived from\" fit the analysis within \
                 {misfit:.1} % (worst: {name})."
            ),
        ));
    }
    true
}

fn trace(name: &str) -> bool {
    matches!(name, "B" | "Cu" | "Fe" | "Mn" | "Mo" | "Zn" | "Na" | "Cl")
}

/// How far a nutrient is off, relative to its figure, or to the floor where that is larger: a
/// tenth of a per cent of ammoniacal N changes nothing that matters.
fn off(&(_, stated, made): &(&str, f64, f64)) -> f64 {
    (made - stated).abs() / stated.max(parameter::MATERIAL_MISFIT_FLOOR.mg_per_g())
}
